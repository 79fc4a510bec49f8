#include <memory>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/option_values.hpp"
#include "cli/output/output_file.hpp"
#include "cli/report_output.hpp"
#include "cli/shared_options.hpp"
#include "engine/kit/key_ranges.hpp"
#include "reports/shade_data.hpp"
#include "reports/shade_document.hpp"
#include "weather/input/input_error.hpp"
#include "weather/input/nearest_word.hpp"
#include "weather/input/quantity_text.hpp"
#include "weather/input/text_pieces.hpp"

namespace dullspell {
namespace {

struct ShadeOptions {
  PlanOption plan;
  std::string camp, date;
  std::string seen, at, sky;
  OutputPaths outputs;
  UnitsOption units;
};

// A glance at the display; its camp and date are not known yet.
struct Glance {
  double watts;
  int minute_of_day;
  SkyWord sky;
};

int clock_time(const std::string& option, const std::string& text) {
  if (const auto minute = minute_of_day_in(text); minute && *minute < 1440) return *minute;
  refuse_option(option, fmt::format("is `{}`", text), "a time of day such as 13:00 or \"1 pm\"",
                "Hours go from 0 to 23, or from 1 to 12 with AM or PM; minutes have two digits.");
}

SkyWord sky_of(const std::string& option, const std::string& text) {
  if (const auto word = sky_word(text)) return *word;
  const std::vector<std::string> words = sky_words();
  const auto near = nearest_word(in_small_letters(text), words);
  refuse_option(option, fmt::format("is `{}`", text), "clear, mixed, overcast or rain",
                near ? fmt::format("Did you mean `{}`?", *near) : "");
}

std::optional<Glance> glance_of(const ShadeOptions& options) {
  const std::string* parts[] = {&options.seen, &options.at, &options.sky};
  const char* names[] = {"--seen", "--at", "--sky"};
  bool any = false;
  for (const std::string* part : parts) any = any || !part->empty();
  if (!any) return std::nullopt;
  for (std::size_t i = 0; i < std::size(parts); ++i) {
    if (!parts[i]->empty()) continue;
    refuse_option(names[i], "is missing", "--seen, --at and --sky together",
                  "For example --seen 41 --at 13:00 --sky clear.");
  }
  return Glance{real_number("--seen", options.seen, kWattsRange.low, kWattsRange.high),
                clock_time("--at", options.at), sky_of("--sky", options.sky)};
}

// Those that are asked for, by number.
std::vector<std::size_t> camps_of(const ShadeOptions& options, const Plan& plan, bool one) {
  const std::size_t count = plan.camps.size();
  if (!options.camp.empty()) return {whole_number("--camp", options.camp, 1, count) - 1};
  if (one && count > 1) {
    refuse_option("--camp", fmt::format("is missing, and the plan has {} camps", count),
                  fmt::format("1 to {}, the camp at which --seen was read", count));
  }
  std::vector<std::size_t> all;
  for (std::size_t i = 0; i < count; ++i) all.push_back(i);
  return all;
}

AnsweredGlance answered(const Plan& plan, const ShadeTable& shade, const Glance& glance) {
  const Reading reading =
      panel_glance(shade.camp, {shade.date, glance.minute_of_day}, glance.sky, glance.watts);
  const SeenCanopy answer = seen_canopy(plan, reading);
  if (!(answer.open_w > 0.0)) {
    refuse_option("--at",
                  fmt::format("is {}, when the sun is not up on {} there",
                              clock_text(glance.minute_of_day), short_date(shade.date)),
                  "an hour of daylight",
                  shade.hours.empty() ? "" : "Hours count from 0 to 24: 1:00 PM is 13:00.");
  }
  return {reading, answer};
}

ExitCode run(const ShadeOptions& options) {
  const Units units = options.units.units();
  const std::optional<Glance> glance = glance_of(options);
  std::optional<Date> date;
  if (!options.date.empty()) date = calendar_date("--date", options.date);
  const Plan plan = options.plan.read();
  if (plan.panels.empty()) {
    InputProblem problem;
    problem.file = plan.file;
    problem.key = "panels";
    problem.problem = "is missing, and without panels there is nothing to shade";
    problem.allowed = "at least one table [[panels]]";
    problem.fix = "`dullspell keys panels` says what it may hold.";
    throw InputError(std::move(problem));
  }
  const std::vector<std::size_t> camps = camps_of(options, plan, glance.has_value());
  OutputFiles files(options.outputs);

  std::vector<ShadeTable> tables;
  for (const std::size_t camp : camps) {
    tables.push_back(shade_table(plan, camp, date.value_or(middle_date(plan, camp))));
  }
  ShadeReport report{plan, tables, std::nullopt, date.has_value(), units};
  if (glance) report.seen = answered(plan, tables.front(), *glance);
  const Document document = shade_document(report, kProgram);
  if (auto* out = files.stream("--csv")) write_shade_csv(*out, report);
  write_report(files, document);
  return ExitCode::done;
}

}  // namespace

Command shade_command() {
  Command command{
      .name = "shade",
      .question =
          "What should the panels show at camp, hour by hour, and which canopy do they tell of?"};
  auto options = std::make_shared<ShadeOptions>();
  options->plan.add_to(command);
  command.options.push_back({.name = "--camp",
                             .kept = &options->camp,
                             .help = "Number of the camp (default: each in turn)"});
  command.options.push_back({.name = "--date",
                             .kept = &options->date,
                             .help = "Date of the tables, e.g. 2027-10-02 (default: the middle of "
                                     "each camp's nights)"});
  command.options.push_back(
      {.name = "--seen",
       .kept = &options->seen,
       .help =
           "Watts from the panels that the display showed at the camp: answers with the canopy"});
  command.options.push_back(
      {.name = "--at", .kept = &options->at, .help = "When, by the clock there, e.g. 13:00"});
  command.options.push_back({.name = "--sky",
                             .kept = &options->sky,
                             .help = "What sky that day had",
                             .takes = "clear|mixed|overcast|rain"});
  command.options.push_back(json_option(options->outputs.json));
  command.options.push_back(
      csv_option(options->outputs.csv,
                 "Also write one line an hour and sky as CSV to this file; - as for --json"));
  command.options.push_back(html_option(options->outputs.html));
  options->units.add_to(command);
  command.footer =
      "The watts that the display of the solar controller or power box should show on a clear, a "
      "mixed, an overcast and a rainy day, at the camp as the plan states it and in the open, and "
      "what each canopy would leave.\n"
      "Examples:\n"
      "  dullspell shade van.toml\n"
      "  dullspell shade van.toml --seen 41 --at 13:00 --sky clear\n"
      "  dullspell shade van.toml --camp 2 --date 2027-10-02 --html shade.html";
  command.run = [options] { return run(*options); };
  return command;
}

}  // namespace dullspell
