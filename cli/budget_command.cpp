#include <iostream>
#include <memory>

#include "cli/commands.hpp"
#include "cli/shared_options.hpp"
#include "cli/terminal.hpp"
#include "engine/budget.hpp"
#include "reports/text_report.hpp"

namespace dullspell {

void add_budget_command(CLI::App& app, ExitCode& exit) {
  auto* command =
      app.add_subcommand("budget", "Where do the watt-hours go on an average day of the stay?");
  auto plan_option = std::make_shared<PlanOption>();
  plan_option->add_to(*command);
  command->footer(
      "No weather is drawn: the figures are means over the place's days at month-mean "
      "temperature.");
  command->callback([plan_option, &exit] {
    const Plan plan = plan_option->read();
    const PreparedPlan prepared = prepare(plan);
    write_budget_text(std::cout, plan, prepared, standard_output_style());
    exit = ExitCode::done;
  });
}

}  // namespace dullspell
