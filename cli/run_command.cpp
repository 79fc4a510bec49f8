#include <memory>
#include <optional>

#include "cli/commands.hpp"
#include "cli/output/output_file.hpp"
#include "cli/progress_line.hpp"
#include "cli/record_options.hpp"
#include "cli/report_output.hpp"
#include "cli/shared_options.hpp"
#include "engine/study/prepare.hpp"
#include "engine/study/study.hpp"
#include "reports/run_document.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

struct RunOptions {
  PlanOption plan;
  OutputPaths outputs;
  bool fail_on_risk = false;
  bool doubt = false;
  PastRecordOptionTexts record;
  StudyOptionTexts study;
  UnitsOption units;
};

ExitCode run(const RunOptions& options) {
  const StudyOptions study = options.study.options();
  const Units units = options.units.units();
  options.record.check();
  const Plan plan = options.plan.read();
  std::optional<WeatherRecord> record;
  if (options.record.given()) record = options.record.record(plan);
  OutputFiles files(options.outputs);

  const PreparedPlan prepared = prepare(plan);
  std::optional<HindcastResult> past;
  if (record) past = options.record.hindcast(plan, prepared, *record, study);
  const StudyResult result = run_with_progress(prepared, study);
  const Budget budget = budget_with_shade(plan, prepared);
  std::optional<GuessDoubt> guesses;
  if (options.doubt) {
    guesses = with_progress([&](const Progress& progress) {
      return guess_doubt(plan, {result.stays, study.seed, study.threads, study.instruction_set},
                         progress);
    });
  }
  std::optional<PastReport> past_report;
  if (past) past_report.emplace(PastReport{*record, *past});
  const RunReport report{plan,
                         prepared,
                         result,
                         budget,
                         past_report ? &*past_report : nullptr,
                         guesses ? &*guesses : nullptr,
                         units};
  const Document document = run_document(report, kProgram);
  write_report(files, document);
  const bool exceeded = risk_as_planned(result).flat.p > plan.accept_risk;
  return options.fail_on_risk && exceeded ? ExitCode::risk_exceeded : ExitCode::done;
}

}  // namespace

Command run_command() {
  Command command{
      .name = "run",
      .question = "Will the battery run flat, on which day, how likely; how many generator hours?"};
  auto options = std::make_shared<RunOptions>();
  options->plan.add_to(command);
  command.options.push_back(json_option(options->outputs.json));
  command.options.push_back(html_option(options->outputs.html));
  command.options.push_back(
      {.name = "--fail-on-risk",
       .kept = &options->fail_on_risk,
       .help = "Exit with 3 if the plan as written (its generator included) exceeds "
               "accept_risk"});
  command.options.push_back(
      {.name = "--doubt",
       .kept = &options->doubt,
       .help = "Also say how far the risk may be off because the plan's watts, trees and the "
               "like are guesses, and which of them to measure first"});
  options->study.add_to(command);
  options->record.add_to(command, Presence::optional);
  options->units.add_to(command);
  command.footer =
      "Examples:\n"
      "  dullspell run forest.toml\n"
      "  dullspell run forest.toml --stays 200000 --json result.json\n"
      "  dullspell run forest.toml --html forest.html\n"
      "  dullspell run forest.toml --precision 0.002\n"
      "  dullspell run forest.toml --doubt --set guesses.standby=0\n"
      "  dullspell run forest.toml --set now=2027-05-24T09:00:00 --set battery.start_charge=0.55\n"
      "  dullspell run forest.toml --set yesterday=overcast \\\n"
      "    --set 'forecast=[{day=1, sky=\"overcast\"}, {day=2, k=0.55, k_spread=0.1}]'\n"
      "  cat forest.toml | dullspell run - --fail-on-risk";
  command.run = [options] { return run(*options); };
  return command;
}

}  // namespace dullspell
