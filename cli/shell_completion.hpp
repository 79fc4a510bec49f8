#pragma once

#include <ostream>

#include "cli/command_line.hpp"

namespace dullspell {

/// Scripts by which a shell completes the program's shown commands, options, choices and files.
void write_bash_completion(std::ostream& out, const Program& program);
void write_zsh_completion(std::ostream& out, const Program& program);
void write_fish_completion(std::ostream& out, const Program& program);

}  // namespace dullspell
