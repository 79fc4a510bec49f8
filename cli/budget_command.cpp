#include <memory>

#include "cli/commands.hpp"
#include "cli/output/standard_output.hpp"
#include "cli/shared_options.hpp"
#include "cli/terminal.hpp"
#include "engine/study/budget.hpp"
#include "reports/run_document.hpp"
#include "reports/text_renderer.hpp"

namespace dullspell {
namespace {

struct BudgetOptions {
  PlanOption plan;
};

}  // namespace

Command budget_command() {
  Command command{.name = "budget",
                  .question = "Where do the watt-hours go on an average day of the stay?"};
  auto options = std::make_shared<BudgetOptions>();
  options->plan.add_to(command);
  command.footer =
      "No weather is drawn: the figures are means over the place's days at month-mean "
      "temperature.";
  command.run = [options] {
    const Plan plan = options->plan.read();
    const PreparedPlan prepared = prepare_stay(plan);
    const Budget budget = budget_with_shade(plan, prepared);
    write_text(standard_output(), budget_document(plan, prepared, budget), standard_output_style());
    return ExitCode::done;
  };
  return command;
}

}  // namespace dullspell
