#pragma once

#include <span>
#include <string>

#include "cli/command_line.hpp"
#include "cli/plan_reference.hpp"

namespace dullspell {

/// What `--help` prints of a command, or of the program where that is null, broken to fit where it
/// is read, which is 80 columns where that is no terminal.
std::string help_page(const Program& program, const Command* command);

/// The keys of tables of a plan, broken alike, below a paragraph that may be empty.
std::string keys_page(std::span<const PlanTable> tables, std::string_view introduction = "");

}  // namespace dullspell
