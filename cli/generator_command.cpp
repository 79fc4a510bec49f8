#include <memory>

#include "cli/commands.hpp"
#include "cli/option_values.hpp"
#include "cli/output/output_file.hpp"
#include "cli/progress_line.hpp"
#include "cli/report_output.hpp"
#include "cli/shared_options.hpp"
#include "engine/study/prepare.hpp"
#include "reports/generator_data.hpp"
#include "reports/generator_document.hpp"

namespace dullspell {
namespace {

struct GeneratorOptions {
  PlanOption plan;
  OutputPaths outputs;
  StudyOptionTexts study;
  UnitsOption units;
};

ExitCode run(const GeneratorOptions& options) {
  if (!options.study.precision.empty()) {
    refuse_option("--precision", "is given, but rules are compared on equally many stays",
                  "--stays");
  }
  const StudyOptions study = options.study.options();
  const Units units = options.units.units();
  Plan plan = options.plan.read();
  if (!plan.generator) {
    refuse_option("PLAN", "has no generator", "a plan with a table [generator]");
  }
  // One pair of figures is what this command would replace.
  const GeneratorRule stated = plan.generator->rule;
  if (stated == GeneratorRule::below) plan.generator->rule = GeneratorRule::night;
  OutputFiles files(options.outputs);

  const PreparedPlan prepared = prepare(plan);
  const GeneratorSchedule found = with_progress(
      [&](const Progress& progress) { return generator_schedule(prepared, study, progress); });
  const Budget budget = expected_budget(prepared);
  const GeneratorReport report{plan, prepared, found, budget, stated, units};
  const Document document = generator_document(report, kProgram);
  if (auto* out = files.stream("--levels")) *out << levels_as_plan(prepared);
  write_report(files, document);
  return ExitCode::done;
}

}  // namespace

Command generator_command() {
  Command command{.name = "generator",
                  .question = "When to run the generator: start below which charge, until which?"};
  auto options = std::make_shared<GeneratorOptions>();
  options->plan.add_to(command);
  command.options.push_back(json_option(options->outputs.json));
  command.options.push_back(
      {.name = "--levels",
       .kept = &options->outputs.levels,
       .help = "Also write the rule as lines for the plan's table [generator] to this file; - as "
               "for --json",
       .takes = "FILE"});
  command.options.push_back(html_option(options->outputs.html));
  options->study.add_to(command);
  options->units.add_to(command);
  command.hide("--precision");  // refused with a reason
  command.footer =
      "A rule to tape to the fridge, found on simulated weather: by date and allowed hour the\n"
      "charge to start below and the charge to run until. With `now` in the plan: tonight's.\n"
      "Examples:\n"
      "  dullspell generator forest.toml\n"
      "  dullspell generator forest.toml --set now=2027-05-24T16:00:00\n"
      "  dullspell generator forest.toml --levels levels.toml --html generator.html";
  command.run = [options] { return run(*options); };
  return command;
}

}  // namespace dullspell
