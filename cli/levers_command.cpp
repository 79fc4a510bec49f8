#include <limits>
#include <memory>
#include <optional>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/option_values.hpp"
#include "cli/output/output_file.hpp"
#include "cli/progress_line.hpp"
#include "cli/report_output.hpp"
#include "cli/shared_options.hpp"
#include "engine/study/prepare.hpp"
#include "reports/levers_data.hpp"
#include "reports/levers_document.hpp"

namespace dullspell {
namespace {

struct LeversOptions {
  PlanOption plan;
  std::string top;
  OutputPaths outputs;
  StudyOptionTexts study;
  UnitsOption units;
};

ExitCode levers(const LeversOptions& options) {
  if (!options.study.precision.empty()) {
    refuse_option("--precision", "is given, but changes are compared on equally many stays",
                  "--stays");
  }
  const StudyOptions study = options.study.options();
  const Units units = options.units.units();
  std::size_t top = std::numeric_limits<std::size_t>::max();
  if (!options.top.empty()) top = whole_number("--top", options.top, 1, 1000);
  const Plan plan = options.plan.read();
  OutputFiles files(options.outputs);

  const PreparedPlan prepared = prepare(plan);
  const LeverStudy found = with_progress(
      [&](const Progress& progress) { return run_levers(plan, prepared, study, progress); });
  const Budget budget = expected_budget(prepared);
  const LeversReport report{plan, prepared, found, budget, units, top};
  const Document document = levers_document(report, kProgram);
  if (auto* out = files.stream("--csv")) write_levers_csv(*out, report);
  write_report(files, document);
  return ExitCode::done;
}

}  // namespace

Command levers_command() {
  Command command{.name = "levers",
                  .question = "Which single change to a plan takes the most risk off?"};
  auto options = std::make_shared<LeversOptions>();
  options->plan.add_to(command);
  command.options.push_back(
      {.name = "--top", .kept = &options->top, .help = "Show only this many changes in the table"});
  command.options.push_back(json_option(options->outputs.json));
  command.options.push_back(csv_option(
      options->outputs.csv, "Also write one line a change as CSV to this file; - as for --json"));
  command.options.push_back(html_option(options->outputs.html));
  options->study.add_to(command);
  options->units.add_to(command);
  command.hide("--precision");  // refused with a reason
  command.footer =
      "Each load left out or halved, panels tilted, turned or added, a larger battery, a camp in\n"
      "the open, a cooler furnace, the inverter off at night, a night fewer, an hour of "
      "generator:\n"
      "one at a time, on the same simulated weather.\n"
      "Examples:\n"
      "  dullspell levers forest.toml\n"
      "  dullspell levers forest.toml --top 5 --html levers.html\n"
      "  dullspell levers forest.toml --set camp[1].canopy=0.3 --stays 100000 --csv -";
  command.run = [options] { return levers(*options); };
  return command;
}

}  // namespace dullspell
