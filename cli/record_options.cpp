#include "cli/record_options.hpp"

#include <filesystem>
#include <stdexcept>

#include <fmt/format.h>

#include "cli/option_values.hpp"
#include "cli/output/files_in_use.hpp"
#include "cli/progress_line.hpp"
#include "reports/number_text.hpp"
#include "weather/input/input_error.hpp"
#include "weather/records/quality.hpp"
#include "weather/records/record_file.hpp"

namespace dullspell {
namespace {

constexpr int kMostWindow_days = 45;

std::string site_ids(const std::vector<WeatherRecord>& records) {
  constexpr std::size_t kShown = 6;
  std::string out;
  for (std::size_t i = 0; i < records.size() && i < kShown; ++i) {
    out += (i ? ", " : "") + records[i].site;
  }
  return records.size() > kShown ? out + ", …" : out;
}

void refuse_far_camps(const std::vector<double>& away_km) {
  for (std::size_t camp = 0; camp < away_km.size(); ++camp) {
    if (away_km[camp] <= kFarthestRecord_km) continue;
    refuse_option("--record",
                  fmt::format("was measured {} from the plan's {} camp",
                              km_and_miles(away_km[camp]), ordinal(static_cast<int>(camp) + 1)),
                  "up to " + km_and_miles(kFarthestRecord_km),
                  "Its weather says nothing of the camp's.");
  }
}

}  // namespace

WeatherRecord read_record(const std::vector<std::string>& files, const std::string& site) {
  std::vector<WeatherRecord> chosen;
  for (const std::string& file : files) {
    note_file_in_use(file);
    auto records = read_weather_file(file);
    if (site.empty() && records.size() > 1) {
      refuse_option(
          "--site", "is missing",
          fmt::format("one of the {} sites of {}: {}", records.size(), file, site_ids(records)));
    }
    bool found = false;
    for (WeatherRecord& record : records) {
      if (!site.empty() && record.site != site) continue;
      found = true;
      chosen.push_back(std::move(record));
    }
    if (!found) {
      refuse_option("--site", fmt::format("is `{}`, which is not in {}", site, file),
                    records.size() == 1 && records.front().site.empty()
                        ? "nothing: the file holds a single site"
                        : "one of " + site_ids(records));
    }
  }
  WeatherRecord record = join_records(std::move(chosen));
  if (record.name.empty()) {
    record.name = site.empty() ? std::filesystem::path(files.front()).stem().string() : site;
  }
  return record;
}

void PastRecordOptionTexts::add_to(Command& command, Presence presence) {
  command.options.push_back(
      {.name = "--record",
       .kept = &files,
       .help = "Measured weather to replay the plan on: EPW, TMY3 CSV, or CSV with daily or hourly "
               "irradiation (see `fit --help`); several files of one site, oldest first",
       .takes = "FILE",
       .presence = presence});
  command.options.push_back(
      {.name = "--site", .kept = &site, .help = "Which site, in files of several"});
  command.options.push_back(
      {.name = "--record-at",
       .kept = &at,
       .help = "LAT,LON where it was measured (default: what the file says, else the plan's "
               "place)"});
  command.options.push_back(
      {.name = "--typical-year",
       .kept = &typical_year,
       .help = "The record is a typical year, put together from months of different years "
               "(EPW and TMY3 files say so themselves)"});
  command.options.push_back(
      {.name = "--window",
       .kept = &window,
       .help = "Past periods begin up to so many days before and after the plan's date, 0 to "
               "45 (default 7)"});
}

void PastRecordOptionTexts::check() const {
  if (!given()) {
    const char* lonely = !site.empty()     ? "--site"
                         : !at.empty()     ? "--record-at"
                         : !window.empty() ? "--window"
                         : typical_year    ? "--typical-year"
                                           : nullptr;
    if (lonely) refuse_option(lonely, "is given without --record", "only beside --record FILE");
  }
  if (!window.empty()) whole_number("--window", window, 0, kMostWindow_days);
}

WeatherRecord PastRecordOptionTexts::record(const Plan& plan) const {
  const Place& place = plan.camps.front().place;
  WeatherRecord record = read_record(files, site);
  if (typical_year) record.typical_year = true;
  if (!at.empty()) record.where = coordinates("--record-at", at);
  if (record.where) refuse_far_camps(distances_to_camps_km(plan, *record.where));
  if (!record.utc_offset_h) record.utc_offset_h = place.utc_offset_h;
  check_quality(record, record.where.value_or(place.where));
  return record;
}

HindcastResult PastRecordOptionTexts::hindcast(const Plan& plan, const PreparedPlan& prepared,
                                               const WeatherRecord& record,
                                               const StudyOptions& study) const {
  HindcastOptions options;
  options.seed = study.seed;
  options.threads = study.threads;
  options.warmer_k = camps_warmer_k(plan, record);
  if (!window.empty()) {
    options.window_days = static_cast<int>(whole_number("--window", window, 0, kMostWindow_days));
  }
  const PastWeather past(record, record.where.value_or(plan.camps.front().place.where));
  try {
    return with_progress(
        [&](const Progress& progress) { return run_hindcast(prepared, past, options, progress); });
  } catch (const std::invalid_argument& problem) {
    InputProblem p;
    p.file = record.file;
    p.problem = problem.what();
    p.fix = "A longer record, a shorter stay or a wider --window may help.";
    throw InputError(std::move(p));
  }
}

}  // namespace dullspell
