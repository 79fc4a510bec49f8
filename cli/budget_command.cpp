#include <iostream>
#include <memory>

#include "cli/commands.hpp"
#include "engine/budget.hpp"
#include "engine/plan_file.hpp"
#include "reports/text_report.hpp"

namespace dullspell {

void add_budget_command(CLI::App& app, ExitCode& exit) {
  auto* command =
      app.add_subcommand("budget", "Where do the watt-hours go on an average day of the stay?");
  auto path = std::make_shared<std::string>();
  command->add_option("PLAN", *path, "Plan file, or - for standard input")->required();
  command->footer(
      "No weather is drawn: the figures are means over the place's days at month-mean "
      "temperature.");
  command->callback([path, &exit] {
    const Plan plan = read_plan(*path);
    const PreparedPlan prepared = prepare(plan);
    write_plan_summary(std::cout, plan, prepared);
    write_budget(std::cout, expected_budget(prepared));
    exit = ExitCode::done;
  });
}

}  // namespace dullspell
