#include <algorithm>
#include <array>
#include <chrono>

#include <fmt/format.h>

#include "weather/records/quality/checks.hpp"
#include "weather/records/quality/stuck_values.hpp"

namespace dullspell {
namespace {

/// One of a day's temperatures.
struct TemperatureSeries {
  std::optional<double> RecordedDay::*value;
  std::string_view name;
};

constexpr std::array kTemperatures{TemperatureSeries{&RecordedDay::temp_max_c, "maximum"},
                                   TemperatureSeries{&RecordedDay::temp_min_c, "minimum"},
                                   TemperatureSeries{&RecordedDay::temp_mean_c, "mean"}};

void check_temperature_unit(const WeatherRecord& record, const TemperatureSeries& series) {
  constexpr double kHottest_c = 45.0;  // no place's middle day
  constexpr double kKelvin = 180.0;
  std::vector<double> values;
  for (const RecordedDay& day : record.days) {
    if (const auto& value = day.*series.value) values.push_back(*value);
  }
  if (values.empty()) return;
  const double middle = quantile_of(values, 0.5);
  if (middle <= kHottest_c) return;
  refuse_record(
      record, record.days.front().line,
      fmt::format("has a {} temperature of {:.0f} C on the middle day", series.name, middle),
      "-90 to 60 (C)",
      middle > kKelvin ? "The values look like kelvin: subtract 273.15."
                       : "The values look like degrees Fahrenheit: let the column's name "
                         "end in _f.");
}

void leave_out_impossible_temperatures(WeatherRecord& record) {
  constexpr double kColdest_c = -90.0, kHottest_c = 60.0;
  for (const TemperatureSeries& series : kTemperatures) {
    DayCount met;
    for (RecordedDay& day : record.days) {
      auto& value = day.*series.value;
      if (!value || (*value >= kColdest_c && *value <= kHottest_c)) continue;
      met.add(day);
      value.reset();
    }
    add_day_finding(record, met,
                    fmt::format("with a {} temperature beyond -90 to 60 C: left out", series.name));
  }
}

void leave_out_swapped_temperatures(WeatherRecord& record) {
  DayCount met;
  int both = 0;
  for (const RecordedDay& day : record.days) {
    if (!day.temp_max_c || !day.temp_min_c) continue;
    ++both;
    if (*day.temp_max_c < *day.temp_min_c) met.add(day);
  }
  if (2 * met.count > both) {
    refuse_record(record, met.first->line,
                  fmt::format("has a maximum temperature below the minimum on {} of {} days",
                              met.count, both),
                  "a maximum of at least the minimum",
                  "The columns of maximum and minimum look exchanged: exchange their names.");
  }
  for (RecordedDay& day : record.days) {
    if (!day.temp_max_c || !day.temp_min_c || *day.temp_max_c >= *day.temp_min_c) continue;
    day.temp_max_c.reset();
    day.temp_min_c.reset();
  }
  add_day_finding(record, met, "with a maximum temperature below the minimum: both left out");
}

void leave_out_stuck_temperatures(WeatherRecord& record) {
  constexpr std::size_t kLeast = 5;
  for (const TemperatureSeries& series : kTemperatures) {
    DayCount met;
    std::vector<std::optional<double>> values;
    for (const RecordedDay& day : record.days) values.push_back(day.*series.value);
    for (const Run& run : stuck_runs(record.days, values, kLeast)) {
      for (std::size_t i = run.first; i < run.last; ++i) {
        met.add(record.days[i]);
        (record.days[i].*series.value).reset();
      }
    }
    add_day_finding(record, met,
                    fmt::format("in runs of the same {} temperature day after day, as a stuck "
                                "sensor gives: left out",
                                series.name));
  }
}

void note_temperature_jumps(WeatherRecord& record) {
  constexpr double kJump_k = 25.0;
  constexpr std::chrono::days kNext{1};
  DayCount met;
  const auto& days = record.days;
  for (std::size_t i = 1; i + 1 < days.size(); ++i) {
    const auto before = days[i - 1].mean_temperature_c(), here = days[i].mean_temperature_c(),
               after = days[i + 1].mean_temperature_c();
    if (!before || !here || !after || days[i].date - days[i - 1].date != kNext ||
        days[i + 1].date - days[i].date != kNext) {
      continue;
    }
    const double up = *here - *before, down = *here - *after;
    if (std::min(up, down) > kJump_k || std::max(up, down) < -kJump_k) met.add(days[i]);
  }
  add_day_finding(record, met,
                  "with a temperature more than 25 K from both neighbours: kept, but look at it");
}

}  // namespace

void check_temperatures(WeatherRecord& record) {
  for (const auto& series : kTemperatures) check_temperature_unit(record, series);
  leave_out_impossible_temperatures(record);
  leave_out_swapped_temperatures(record);
  leave_out_stuck_temperatures(record);
  note_temperature_jumps(record);
}

}  // namespace dullspell
