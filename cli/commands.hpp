#pragma once

#include "cli/command_line.hpp"

namespace dullspell {

/// Name and version as reports print them.
inline constexpr const char* kProgram = "dullspell " DULLSPELL_VERSION;

Command run_command();
Command size_command();
Command compare_command();
Command levers_command();
Command generator_command();
Command audit_command();
Command shade_command();
Command budget_command();
Command hindcast_command();
Command calendar_command();
Command where_command();
Command places_command();
Command weather_command();
Command fit_command();
Command new_command();
Command keys_command();

/// These tell of the whole program, which must outlive them.
Command completion_command(const Program& program);
Command manual_command(const Program& program);

}  // namespace dullspell
