#pragma once

#include <CLI/CLI.hpp>

#include "cli/exit_code.hpp"

namespace dullspell {

/// Name and version as reports print them.
inline constexpr const char* kProgram = "dullspell " DULLSPELL_VERSION;

/// Each adds its command to the program; when the command line names it, `exit` is set.
void add_run_command(CLI::App& app, ExitCode& exit);
void add_size_command(CLI::App& app, ExitCode& exit);
void add_compare_command(CLI::App& app, ExitCode& exit);
void add_levers_command(CLI::App& app, ExitCode& exit);
void add_budget_command(CLI::App& app, ExitCode& exit);
void add_hindcast_command(CLI::App& app, ExitCode& exit);
void add_calendar_command(CLI::App& app, ExitCode& exit);
void add_where_command(CLI::App& app, ExitCode& exit);
void add_places_command(CLI::App& app, ExitCode& exit);
void add_weather_command(CLI::App& app, ExitCode& exit);
void add_fit_command(CLI::App& app, ExitCode& exit);
void add_new_command(CLI::App& app, ExitCode& exit);
void add_completion_command(CLI::App& app, ExitCode& exit);
void add_manual_command(CLI::App& app, ExitCode& exit);

}  // namespace dullspell
