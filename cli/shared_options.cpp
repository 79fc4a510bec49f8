#include "cli/shared_options.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "cli/known_places.hpp"
#include "cli/output/files_in_use.hpp"
#include "cli/progress_line.hpp"
#include "engine/plan_file.hpp"
#include "weather/input/input_error.hpp"
#include "weather/input/nearest_word.hpp"

namespace dullspell {

void refuse_option(const std::string& option, std::string problem, std::string allowed,
                   std::string fix) {
  InputProblem p;
  p.file = "command line";
  p.key = option;
  p.problem = std::move(problem);
  p.allowed = std::move(allowed);
  p.fix = std::move(fix);
  throw InputError(std::move(p));
}

std::string in_small_letters(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return text;
}

std::uint64_t whole_number(const std::string& option, const std::string& text, std::uint64_t low,
                           std::uint64_t high) {
  std::uint64_t value = 0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc{} || stop != end || value < low || value > high) {
    refuse_option(option, fmt::format("is `{}`", text),
                  fmt::format("a whole number from {} to {}", low, high));
  }
  return value;
}

double real_number(const std::string& option, const std::string& text, double low, double high) {
  double value = 0.0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc{} || stop != end || !(value >= low && value <= high)) {
    refuse_option(option, fmt::format("is `{}`", text),
                  fmt::format("a number from {} to {}", low, high));
  }
  return value;
}

Date calendar_date(const std::string& option, const std::string& text) {
  const auto date = parse_iso_date(text);
  if (date && *date >= make_date(1950, 1, 1) && *date < make_date(2050, 1, 1)) return *date;
  refuse_option(option, fmt::format("is `{}`", text), "a date such as 2027-05-21, 1950 to 2049");
}

Coordinates coordinates(const std::string& option, const std::string& text) {
  const std::size_t comma = text.find(',');
  if (comma == std::string::npos) {
    refuse_option(option, fmt::format("is `{}`", text),
                  "latitude,longitude in degrees, north and east positive",
                  "For example 41.8,-124.2 without a blank.");
  }
  const std::size_t second = text.find_first_not_of(' ', comma + 1);
  return {real_number(option + " (latitude)", text.substr(0, comma), -90.0, 90.0),
          real_number(option + " (longitude)",
                      second == std::string::npos ? "" : text.substr(second), -180.0, 180.0)};
}

RecordKind kind_of_record(const std::string& option, const std::string& text) {
  if (const auto kind = record_kind(text)) return *kind;
  refuse_option(option, fmt::format("is `{}`", text),
                "measured, typical-year, monthly-means or estimated");
}

void PlanOption::add_to(CLI::App& command) {
  command.add_option("PLAN", path, "Plan file, or - for standard input")
      ->type_name("FILE")
      ->required();
  command
      .add_option("--set", settings,
                  "Change or add one value of the plan, e.g. battery.start_charge=0.55 or "
                  "camp[1].canopy=0.3; may be given several times")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false);
}

Plan PlanOption::read() const {
  note_file_in_use(path);
  return read_plan(path, known_places(), settings);
}

void add_json_option(CLI::App& command, std::string& path) {
  command
      .add_option("--json", path,
                  "Also write the result as JSON to this file; - writes only JSON, to standard "
                  "output")
      ->type_name("FILE");
}

void add_html_option(CLI::App& command, std::string& path) {
  command
      .add_option("--html", path,
                  "Also write the result as one web page, with charts, that needs no network; - "
                  "writes only the page, to standard output")
      ->type_name("FILE");
}

void UnitsOption::add_to(CLI::App& command) {
  command
      .add_option(
          "--units", word,
          "Units of the texts: metric (default), or us for gallons, miles, feet, pounds and "
          "°F. What is typed keeps the units that its key or option names; numbers in JSON and CSV "
          "stay metric.")
      ->type_name("us|metric");
}

Units UnitsOption::units() const {
  if (word.empty() || word == "metric") return Units::metric;
  if (word == "us") return Units::us;
  const std::vector<std::string> words{"us", "metric"};
  const auto near = nearest_word(in_small_letters(word), words);
  refuse_option("--units", fmt::format("is `{}`", word), "us or metric",
                near ? fmt::format("Did you mean `{}`?", *near) : "");
}

void StudyOptionTexts::add_to(CLI::App& command) {
  command.add_option("--stays", stays,
                     fmt::format("Stays to draw, {} to {} (default {}). More narrow the interval.",
                                 100, kMostStays, kDefaultStays));
  command.add_option("--precision", precision,
                     "Run until every printed interval is at most ± this share, e.g. 0.005, "
                     "instead of a fixed number of stays.");
  command.add_option(
      "--seed", seed,
      "Number that picks the drawn weather (default 1). The same seed gives the same "
      "result, whatever the threads.");
  command.add_option("--threads", threads, "Threads to use (default: as many as the machine has).");
  command
      .add_option("--cpu", cpu,
                  "Instruction set (default: the best that the machine has); results are the same.")
      ->type_name("baseline|v3|v4");
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
