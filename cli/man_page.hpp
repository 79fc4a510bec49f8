#pragma once

#include <ostream>

#include "cli/command_line.hpp"

namespace dullspell {

/// The manual page of the program in roff (section 1, man macros): every shown command with the
/// descriptions, options and footer that `--help` prints, and the keys of a plan.
void write_man_page(std::ostream& out, const Program& program);

}  // namespace dullspell
