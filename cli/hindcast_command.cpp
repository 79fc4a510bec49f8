#include <memory>
#include <optional>

#include "cli/commands.hpp"
#include "cli/output/output_file.hpp"
#include "cli/record_options.hpp"
#include "cli/report_output.hpp"
#include "cli/shared_options.hpp"
#include "engine/study/prepare.hpp"
#include "reports/hindcast_document.hpp"

namespace dullspell {
namespace {

struct HindcastCommandOptions {
  PlanOption plan;
  OutputPaths outputs;
  PastRecordOptionTexts record;
  StudyOptionTexts study;
  UnitsOption units;
};

ExitCode hindcast(const HindcastCommandOptions& options) {
  const StudyOptions study = options.study.options();
  const Units units = options.units.units();
  options.record.check();
  const Plan plan = options.plan.read();
  const WeatherRecord record = options.record.record(plan);
  OutputFiles files(options.outputs);

  const PreparedPlan prepared = prepare(plan);
  const HindcastResult past = options.record.hindcast(plan, prepared, record, study);
  const StudyResult predicted = run_with_progress(prepared, study);
  const PastReport past_report{record, past};
  const HindcastReport report{plan, prepared, past_report, predicted, units};
  const Document document = hindcast_document(report, kProgram);
  write_report(files, document);
  return ExitCode::done;
}

}  // namespace

Command hindcast_command() {
  Command command{.name = "hindcast",
                  .question = "What would have happened to this plan in past years?"};
  auto options = std::make_shared<HindcastCommandOptions>();
  options->plan.add_to(command);
  options->record.add_to(command, Presence::required);
  command.options.push_back(json_option(options->outputs.json));
  command.options.push_back(html_option(options->outputs.html));
  options->study.add_to(command);
  options->units.add_to(command);
  command.footer =
      "Every year's stretch of the record around the plan's date goes through the same kit, and "
      "the model's figure stands beside it. CSV files do not say where they were measured: tell it "
      "by\n"
      "--record-at.\n"
      "Example:\n"
      "  dullspell hindcast desert.toml --record davis.csv --record-at 38.54,-121.78 --window 10";
  command.run = [options] { return hindcast(*options); };
  return command;
}

}  // namespace dullspell
