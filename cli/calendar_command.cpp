#include <memory>

#include "cli/commands.hpp"
#include "cli/output/output_file.hpp"
#include "cli/progress_line.hpp"
#include "cli/report_output.hpp"
#include "cli/survey_options.hpp"
#include "reports/calendar_data.hpp"
#include "reports/calendar_document.hpp"

namespace dullspell {
namespace {

ExitCode calendar(const SurveyOptionTexts& texts) {
  const OutcomeOptions options = texts.options();
  const Units units = texts.units.units();
  const Plan plan = texts.read();
  OutputFiles files(texts.outputs);

  const auto weeks = with_progress(
      [&](const Progress& progress) { return survey_calendar(plan, options, progress); });
  const CalendarReport report{plan, weeks, options, units};
  const Document document = calendar_document(report, kProgram);
  if (auto* out = files.stream("--csv")) write_calendar_csv(*out, report);
  write_report(files, document);
  return ExitCode::done;
}

}  // namespace

Command calendar_command() {
  Command command{
      .name = "calendar",
      .question = "In which weeks of the year would this stay hold, and which are the worst?"};
  auto options = std::make_shared<SurveyOptionTexts>();
  options->add_to(command);
  command.footer =
      "The same stay, begun on each of 52 weeks of the plan's year, on the plan's weekday.\n"
      "Examples:\n"
      "  dullspell calendar forest.toml\n"
      "  dullspell calendar forest.toml --html weeks.html\n"
      "  dullspell calendar forest.toml --set battery.capacity_wh=4096 --csv weeks.csv";
  command.run = [options] { return calendar(*options); };
  return command;
}

}  // namespace dullspell
