#pragma once

#include <ostream>

#include <CLI/CLI.hpp>

namespace dullspell {

/// The manual page of the program in roff (section 1, man macros): every shown command with the
/// descriptions, options and footer that `--help` prints.
void write_man_page(std::ostream& out, const CLI::App& app);

}  // namespace dullspell
