#pragma once

#include <ostream>

#include <CLI/CLI.hpp>

namespace dullspell {

/// Scripts by which a shell completes the program's shown commands, options, choices and files.
void write_bash_completion(std::ostream& out, const CLI::App& app);
void write_zsh_completion(std::ostream& out, const CLI::App& app);
void write_fish_completion(std::ostream& out, const CLI::App& app);

}  // namespace dullspell
