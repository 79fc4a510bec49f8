#include "cli/shared_options.hpp"

#include <limits>
#include <utility>

#include <fmt/format.h>

#include "cli/known_places.hpp"
#include "cli/option_values.hpp"
#include "cli/output/files_in_use.hpp"
#include "cli/progress_line.hpp"
#include "engine/plan/plan_file.hpp"
#include "weather/input/input_error.hpp"
#include "weather/input/nearest_word.hpp"
#include "weather/input/text_pieces.hpp"

namespace dullspell {

void PlanOption::add_to(Command& command) {
  command.options.push_back({.name = "PLAN",
                             .kept = &path,
                             .help = "Plan file, or - for standard input",
                             .takes = "FILE",
                             .presence = Presence::required});
  command.options.push_back(
      set_option(settings,
                 "Change or add one value of the plan, e.g. battery.start_charge=0.55 or "
                 "camp[1].canopy=0.3; may be given several times"));
}

Plan PlanOption::read() const {
  return read(source());
}

SourceText PlanOption::source() const {
  note_file_in_use(path);
  return read_source(path, "plan", kLargestPlan_bytes);
}

Plan PlanOption::read(SourceText source) const {
  return parse_plan(std::move(source), known_places(), settings);
}

Option json_option(std::string& path) {
  return {.name = "--json",
          .kept = &path,
          .help =
              "Also write the result as JSON to this file; - writes only JSON, to standard "
              "output",
          .takes = "FILE"};
}

Option html_option(std::string& path) {
  return {.name = "--html",
          .kept = &path,
          .help =
              "Also write the result as one web page, with charts, that needs no network; - "
              "writes only the page, to standard output",
          .takes = "FILE"};
}

Option csv_option(std::string& path, std::string help) {
  return {.name = "--csv", .kept = &path, .help = std::move(help), .takes = "FILE"};
}

Option set_option(std::vector<std::string>& settings, std::string help) {
  return {.name = "--set",
          .kept = &settings,
          .help = std::move(help),
          .takes = "KEY=VALUE",
          .words = WordsEachTime::one};
}

void UnitsOption::add_to(Command& command) {
  command.options.push_back(
      {.name = "--units",
       .kept = &word,
       .help = "Units of the texts: metric (default), or us for gallons, miles, feet, pounds and "
               "°F. What you type stays in the unit that its key or option names; numbers in JSON "
               "and CSV stay metric.",
       .takes = "us|metric"});
}

Units UnitsOption::units() const {
  if (word.empty() || word == "metric") return Units::metric;
  if (word == "us") return Units::us;
  const std::vector<std::string> words{"us", "metric"};
  const auto near = nearest_word(in_small_letters(word), words);
  refuse_option("--units", fmt::format("is `{}`", word), "us or metric",
                near ? fmt::format("Did you mean `{}`?", *near) : "");
}

void StudyOptionTexts::add_to(Command& command) {
  const std::vector<Option> options{
      {.name = "--stays",
       .kept = &stays,
       .help = fmt::format("Stays to draw, {} to {} (default {}). More narrow the interval.", 100,
                           kMostStays, kDefaultStays)},
      {.name = "--precision",
       .kept = &precision,
       .help = "Run until every printed interval is at most ± this share, e.g. 0.005, "
               "instead of a fixed number of stays."},
      {.name = "--seed",
       .kept = &seed,
       .help = "Number that picks the drawn weather (default 1). The same seed gives the same "
               "result, whatever the threads."},
      {.name = "--threads",
       .kept = &threads,
       .help = "Threads to use (default: as many as the machine has)."},
      {.name = "--cpu",
       .kept = &cpu,
       .help = "Instruction set (default: the best that the machine has); results are the same.",
       .takes = "baseline|v3|v4"}};
  command.options.insert(command.options.end(), options.begin(), options.end());
}

StudyOptions StudyOptionTexts::options() const {
  StudyOptions out;
  if (!stays.empty() && !precision.empty()) {
    refuse_option("--precision", "is given besides --stays", "one of the two");
  }
  if (!stays.empty()) out.stays = whole_number("--stays", stays, 100, kMostStays);
  if (!precision.empty()) out.precision = real_number("--precision", precision, 0.0005, 0.2);
  if (!seed.empty()) {
    out.seed = whole_number("--seed", seed, 0, std::numeric_limits<std::uint64_t>::max());
  }
  if (!cpu.empty()) {
    const auto set = instruction_set(cpu);
    if (!set || !can_run(*set)) {
      refuse_option("--cpu", fmt::format("is `{}`", cpu),
                    "baseline, v3 or v4, as far as this machine has them",
                    fmt::format("Leave it out for the best one here, {}.",
                                to_string(best_instruction_set())));
    }
    out.instruction_set = *set;
  }
  if (!threads.empty()) out.threads = static_cast<int>(whole_number("--threads", threads, 1, 1024));
  return out;
}

StudyResult run_with_progress(const PreparedPlan& plan, const StudyOptions& options) {
  return with_progress(
      [&](const Progress& progress) { return run_study(plan, options, progress); });
}

}  // namespace dullspell
