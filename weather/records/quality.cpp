#include "weather/records/quality.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

#include <fmt/format.h>

#include "weather/angles.hpp"
#include "weather/input/input_error.hpp"
#include "weather/records/record_cells.hpp"

namespace dullspell {
namespace {

constexpr double kDark_wh_m2 = 30.0;      // above the air: no clearness to speak of
constexpr double kSun_wh_m2 = 300.0;      // above the air: a working sensor sees some of it
constexpr double kJudged_wh_m2 = 1000.0;  // above the air: clearness tells a unit
constexpr double kMostImpossibleShare = 1.0 / 3.0;
constexpr int kLeastDaysOfMonth = 5;

/// Days with something in common, with the first of them.
struct DayCount {
  int count = 0;
  const RecordedDay* first = nullptr;

  void add(const RecordedDay& day) {
    if (count++ == 0) first = &day;
  }
};

std::string date_text(const WeatherRecord& record, Date date) {
  if (!record.typical_year) return iso_date(date);
  return fmt::format("{} {}", day_of_month(date), month_name(month_index(date)));
}

void add_day_finding(WeatherRecord& record, const DayCount& met, std::string_view what) {
  if (met.count == 0) return;
  const std::string when = date_text(record, met.first->date);
  const std::string text = met.count == 1 ? fmt::format("{} ({})", what, when)
                                          : fmt::format("{} (the first on {})", what, when);
  add_finding(record, {met.count, met.first->line}, "day", "days", text);
}

[[noreturn]] void refuse_record(const WeatherRecord& record, int line, std::string problem,
                                std::string allowed, std::string fix) {
  refuse_line({record.file, {}}, line, "", std::move(problem), std::move(allowed), std::move(fix));
}

double quantile(std::vector<double> values, double share) {
  const auto at = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), values.begin() + at, values.end());
  return values[static_cast<std::size_t>(at)];
}

// The days of a record with the irradiation above the air.
class Sky {
 public:
  Sky(WeatherRecord& record, const Coordinates& where) : record_(record) {
    above_air_.reserve(record.days.size());
    for (const RecordedDay& day : record.days) {
      above_air_.push_back(extraterrestrial_of_date_wh_m2(day.date, where));
    }
  }

  std::size_t size() const { return record_.days.size(); }
  double above_air_wh_m2(std::size_t i) const { return above_air_[i]; }
  RecordedDay& day(std::size_t i) const { return record_.days[i]; }

  /// Clearness index of a day with a value and enough sun to tell a unit; else nothing.
  std::optional<double> judged_clearness(std::size_t i) const {
    const auto& ghi = record_.days[i].ghi_kwh_m2;
    if (!ghi || above_air_[i] < kJudged_wh_m2) return std::nullopt;
    return *ghi * 1000.0 / above_air_[i];
  }

  std::vector<double> judged_clearness() const {
    std::vector<double> values;
    for (std::size_t i = 0; i < size(); ++i) {
      if (const auto k = judged_clearness(i)) values.push_back(*k);
    }
    return values;
  }

  /// Takes the irradiation out, and the hours that it was summed from.
  void leave_out(std::size_t i) const {
    RecordedDay& day = record_.days[i];
    day.ghi_kwh_m2.reset();
    auto& hours = record_.hours;
    const auto at =
        std::lower_bound(hours.begin(), hours.end(), day.date,
                         [](const RecordedHours& entry, Date date) { return entry.date < date; });
    if (at != hours.end() && at->date == day.date) {
      at->ghi_wh_m2.fill(std::numeric_limits<double>::quiet_NaN());
    }
  }

 private:
  WeatherRecord& record_;
  std::vector<double> above_air_;
};

// A year's clear days, its upper fiftieth, have a clearness of 0.6 to 0.85 nearly everywhere; the
// factors between units are 1.7 and more (common practice, no source).
constexpr double kClearDay = 0.72;
constexpr double kClearDaySpread = 0.45;  // of the logarithm, either way
constexpr double kLeastClearDay = 0.27;
constexpr double kClearDayProbability = 0.98;
constexpr std::size_t kLeastDaysForUnit = 10;
constexpr std::size_t kLeastDaysForDimUnit = 60;  // a few weeks can be all dull

/// A unit of irradiation in the terms of the columns: how many kWh/m2 a day's value of 1 is.
struct Unit {
  std::string_view name, cure;
  double kwh_m2;
};

constexpr std::array kDailyUnits{
    Unit{"kWh/m2", "name the column `ghi_kwh_m2`", 1.0},
    Unit{"MJ/m2", "name the column `ghi_mj_m2`", 1.0 / 3.6},
    Unit{"Wh/m2", "name the column `ghi_wh_m2`", 1e-3},
    Unit{"W/m2, the day's mean", "name the column `ghi_w_m2`", 24e-3},
    Unit{"J/cm2", "divide by 100 and name the column `ghi_mj_m2`", 1e-2 / 3.6},
    Unit{"kJ/m2", "divide by 1000 and name the column `ghi_mj_m2`", 1e-3 / 3.6}};

constexpr std::array kHourlyUnits{
    Unit{"kJ/m2", "divide by 3.6 and name the column `ghi_wh_m2`", 1e-3 / 3.6},
    Unit{"J/cm2", "divide by 0.36 and name the column `ghi_wh_m2`", 1e-2 / 3.6},
    Unit{"kWh/m2", "multiply by 1000 and name the column `ghi_wh_m2`", 1.0},
    Unit{"MJ/m2", "divide by 0.0036 and name the column `ghi_wh_m2`", 1.0 / 3.6}};

double stated_kwh_m2(const WeatherRecord& record) {
  if (!record.hours.empty()) return 1e-3;
  for (const Unit& unit : kDailyUnits) {
    if (unit.cure.find("`" + record.ghi_column + "`") != std::string_view::npos) {
      return unit.kwh_m2;
    }
  }
  return 1.0;
}

// The unit that would bring the clear days to where they belong.
const Unit* likely_unit(const WeatherRecord& record, double clear_day) {
  const double wanted_kwh_m2 = stated_kwh_m2(record) * kClearDay / clear_day;
  const Unit* nearest = nullptr;
  double least = kClearDaySpread;
  const auto look = [&](const Unit& unit) {
    const double apart = std::abs(std::log(wanted_kwh_m2 / unit.kwh_m2));
    if (apart >= least) return;
    least = apart;
    nearest = &unit;
  };
  if (record.hours.empty()) {
    std::for_each(kDailyUnits.begin(), kDailyUnits.end(), look);
  } else {
    std::for_each(kHourlyUnits.begin(), kHourlyUnits.end(), look);
  }
  return nearest;
}

[[noreturn]] void refuse_unit(const WeatherRecord& record, double clear_day, const Unit* unit) {
  InputProblem p;
  p.file = record.file;
  p.line = record.days.front().line;
  p.key = record.ghi_column;
  p.problem =
      fmt::format("{} gives clear days {:.3g} times the sun's light above the air",
                  record.ghi_column.empty() ? "irradiation" : "of the whole file", clear_day);
  p.allowed = "about 0.6 to 0.85 times";
  p.fix = unit ? fmt::format("The values look like {}: {}.", unit->name, unit->cure)
               : "No usual unit fits: check the place's latitude and the column.";
  throw InputError(std::move(p));
}

/// The judged days of one calendar month of one year.
struct MonthOfYear {
  std::vector<std::size_t> days;
  std::vector<double> k;
  double mean = 0.0;
  double clear = 0.0;  // the upper tenth
  bool left_out = false;
};

using YearAndMonth = std::pair<int, int>;
using Months = std::map<YearAndMonth, MonthOfYear>;

YearAndMonth year_and_month(Date date) {
  return {int{std::chrono::year_month_day{date}.year()}, month_index(date)};
}

Months months_of(const Sky& sky) {
  Months months;
  for (std::size_t i = 0; i < sky.size(); ++i) {
    const auto k = sky.judged_clearness(i);
    if (!k) continue;
    MonthOfYear& month = months[year_and_month(sky.day(i).date)];
    month.days.push_back(i);
    month.k.push_back(*k);
  }
  for (auto& [at, month] : months) {
    for (const double k : month.k) month.mean += k / static_cast<double>(month.k.size());
    month.clear = quantile(month.k, 0.9);
  }
  return months;
}

double share_above_1(const std::vector<double>& k) {
  const auto count = std::count_if(k.begin(), k.end(), [](double v) { return v > 1.0; });
  return static_cast<double>(count) / static_cast<double>(k.size());
}

bool is_too_bright(const MonthOfYear& month) {
  return month.k.size() >= kLeastDaysOfMonth && share_above_1(month.k) > kMostImpossibleShare;
}

// Far below the same month of other years, in its mean and its clear days alike.
bool is_too_dim(const Months& months, const YearAndMonth& at, const MonthOfYear& month) {
  constexpr double kFarBelow = 0.4;  // a factor of 3.6 is 0.28
  constexpr std::size_t kLeastOthers = 2;
  if (month.k.size() < kLeastDaysOfMonth) return false;
  std::vector<double> means, clears;
  for (const auto& [other_at, other] : months) {
    if (other_at.second != at.second || other_at == at || other.k.size() < kLeastDaysOfMonth) {
      continue;
    }
    means.push_back(other.mean);
    clears.push_back(other.clear);
  }
  return means.size() >= kLeastOthers && month.mean < kFarBelow * quantile(means, 0.5) &&
         month.clear < kFarBelow * quantile(clears, 0.5);
}

void leave_out_months(WeatherRecord& record, const Sky& sky, const Months& months) {
  constexpr std::size_t kNamed = 6;
  DayCount met;
  std::string names;
  std::size_t count = 0;
  for (const auto& [at, month] : months) {
    if (!month.left_out) continue;
    if (count < kNamed) {
      names += fmt::format("{}{} {}", count == 0 ? "" : ", ", month_name(at.second), at.first);
    }
    ++count;
    for (const std::size_t i : month.days) {
      met.add(sky.day(i));
      sky.leave_out(i);
    }
  }
  if (count == 0) return;
  if (count > kNamed) names += fmt::format(" and {} more", count - kNamed);
  add_finding(record, {met.count, met.first->line}, "day", "days",
              fmt::format("of months whose irradiation is in another unit than the rest, or wrong "
                          "throughout ({}): left out",
                          names));
}

void check_units(WeatherRecord& record, const Sky& sky) {
  const auto all = sky.judged_clearness();
  if (all.size() < kLeastDaysForUnit) return;
  const double clear_day = quantile(all, kClearDayProbability);
  if (all.size() >= kLeastDaysForDimUnit && clear_day < kLeastClearDay) {
    // A dim sensor is no slip of units: only a factor that fits one is refused.
    if (const Unit* unit = likely_unit(record, clear_day)) refuse_unit(record, clear_day, unit);
  }
  Months months = months_of(sky);
  std::size_t bright = 0;
  for (auto& [at, month] : months) {
    month.left_out = is_too_bright(month);
    bright += month.left_out ? 1 : 0;
  }
  const bool most_months = 2 * bright > months.size();
  if (most_months || (bright == 0 && share_above_1(all) > kMostImpossibleShare)) {
    refuse_unit(record, clear_day, likely_unit(record, clear_day));
  }
  for (auto& [at, month] : months) {
    month.left_out = month.left_out || is_too_dim(months, at, month);
  }
  leave_out_months(record, sky, months);
}

/// A run of successive days with the same value: [first, last).
struct Run {
  std::size_t first, last;
  std::size_t length() const { return last - first; }
};

// Runs of equal values; `value_of` gives nothing where a day takes no part.
template <class ValueOf>
std::vector<Run> runs_of(const std::vector<RecordedDay>& days, ValueOf value_of) {
  constexpr double kRounding = 1e-9;
  std::vector<Run> runs;
  for (std::size_t i = 0; i < days.size(); ++i) {
    const std::optional<double> value = value_of(i);
    if (!value) continue;
    const bool goes_on = !runs.empty() && runs.back().last == i &&
                         days[i].date == days[i - 1].date + std::chrono::days{1} &&
                         std::abs(*value - *value_of(i - 1)) < kRounding;
    if (goes_on) {
      ++runs.back().last;
    } else {
      runs.push_back({i, i + 1});
    }
  }
  return runs;
}

// How likely a day repeats the value of the day before, by season, from the runs below `cap` days
// alone, so that stuck sensors have no say: if runs of k days are as p^k, all such runs but the
// shortest over all but the longest are p.
class Repeats {
 public:
  explicit Repeats(std::size_t cap) : cap_(cap) {}

  void add(const Run& run, int month) {
    const auto m = static_cast<std::size_t>(month);
    all_runs_ += 1.0;
    if (run.length() < cap_ && run.length() > 1) but_shortest_[m] += 1.0;
    if (run.length() + 1 < cap_) but_longest_[m] += 1.0;
  }

  /// Length that a run of this season reaches by chance in one of 1000 files: coarsely rounded
  /// values of steady weather repeat often. At least the cap.
  std::size_t least_stuck_length(int month) const {
    constexpr double kChance = 1e-3;
    double top = 0.0, bottom = 0.0;
    for (const int m : {month + 11, month, month + 1}) {
      top += but_shortest_[static_cast<std::size_t>(m % 12)];
      bottom += but_longest_[static_cast<std::size_t>(m % 12)];
    }
    if (top == 0.0) return cap_;
    if (top >= bottom) return std::numeric_limits<std::size_t>::max();
    const double longest = 1.0 + std::log(kChance / all_runs_) / std::log(top / bottom);
    return std::max(cap_, static_cast<std::size_t>(std::ceil(longest)));
  }

 private:
  std::size_t cap_;
  double all_runs_ = 0.0;
  std::array<double, 12> but_shortest_{}, but_longest_{};
};

template <class ValueOf>
std::vector<Run> stuck_runs(const std::vector<RecordedDay>& days, std::size_t least,
                            ValueOf value_of) {
  const std::vector<Run> runs = runs_of(days, value_of);
  const auto month = [&](const Run& run) { return month_index(days[run.first].date); };
  Repeats repeats(least);
  for (const Run& run : runs) repeats.add(run, month(run));
  std::vector<Run> stuck;
  for (const Run& run : runs) {
    if (run.length() < least) continue;
    if (run.length() >= repeats.least_stuck_length(month(run))) stuck.push_back(run);
  }
  return stuck;
}

void leave_out_stuck_irradiation(WeatherRecord& record, const Sky& sky) {
  constexpr std::size_t kLeast = 4;
  DayCount met;
  const auto value = [&](std::size_t i) {
    const auto& ghi = sky.day(i).ghi_kwh_m2;
    const bool judged = ghi && *ghi != 0.0 && sky.above_air_wh_m2(i) > kSun_wh_m2;
    return judged ? ghi : std::nullopt;
  };
  for (const Run& run : stuck_runs(record.days, kLeast, value)) {
    for (std::size_t i = run.first; i < run.last; ++i) {
      met.add(sky.day(i));
      sky.leave_out(i);
    }
  }
  add_day_finding(
      record, met,
      "in runs of the same irradiation day after day, as a stuck sensor gives: left out");
}

void leave_out_bright_hours(WeatherRecord& record, const Sky& sky) {
  constexpr double kMost_wh_m2 = 1500.0;  // above the air, with the sun overhead: 1361 and 3.4 %
  DayCount met;
  // Both are in order of dates.
  std::size_t i = 0;
  for (const RecordedHours& day : record.hours) {
    while (i < sky.size() && sky.day(i).date < day.date) ++i;
    if (i == sky.size() || sky.day(i).date != day.date) continue;
    const bool bright = std::any_of(day.ghi_wh_m2.begin(), day.ghi_wh_m2.end(),
                                    [](double wh) { return wh > kMost_wh_m2; });
    if (!bright) continue;
    met.add(sky.day(i));
    sky.leave_out(i);
  }
  add_day_finding(record, met, "with an hour above 1500 W/m2, more than the sun gives: left out");
}

void leave_out_impossible_irradiation(WeatherRecord& record, const Sky& sky) {
  DayCount above, below, none, dark;
  for (std::size_t i = 0; i < sky.size(); ++i) {
    const RecordedDay& day = sky.day(i);
    if (sky.above_air_wh_m2(i) < kDark_wh_m2) {
      dark.add(day);
      continue;
    }
    if (!day.ghi_kwh_m2) continue;
    const double k = *day.ghi_kwh_m2 * 1000.0 / sky.above_air_wh_m2(i);
    if (k < 0.0) {
      below.add(day);
    } else if (k > 1.0) {
      above.add(day);
    } else if (k == 0.0 && sky.above_air_wh_m2(i) > kSun_wh_m2) {
      none.add(day);
    } else {
      continue;
    }
    sky.leave_out(i);
  }
  add_day_finding(record, above, "with a clearness above 1: left out");
  add_day_finding(record, below, "with an irradiation below 0: left out");
  add_day_finding(record, none, "without any light although the sun was up: left out");
  add_day_finding(record, dark, "with next to no sun above the horizon: no clearness to judge");
}

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
  const double middle = quantile(values, 0.5);
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
    const auto value = [&](std::size_t i) { return record.days[i].*series.value; };
    for (const Run& run : stuck_runs(record.days, kLeast, value)) {
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

/// When the light of an hourly record comes, against the sun.
struct LightTimes {
  double late_h = 0.0;  ///< middle of the light after solar noon, -12..12
  LineCount night;      ///< hours with light while the sun was down
  int days = 0;
};

LightTimes light_times(const WeatherRecord& record, const Sky& sky, const Coordinates& where,
                       double utc_offset_h) {
  constexpr double kLight_w_m2 = 20.0;
  LightTimes times;
  double east = 0.0, north = 0.0;
  std::size_t i = 0;
  for (const RecordedHours& hours : record.hours) {
    const SolarDay sun = solar_day(hours.date, where, utc_offset_h);
    while (i < sky.size() && sky.day(i).date < hours.date) ++i;
    const bool known = i < sky.size() && sky.day(i).date == hours.date;
    bool lit = false;
    for (std::size_t h = 0; h < 24; ++h) {
      const double wh = hours.ghi_wh_m2[h];
      if (!(wh > kLight_w_m2)) continue;
      lit = true;
      if (sun.hours[h].share == 0.0) times.night.add(known ? sky.day(i).line : 0);
      const double after_noon_deg =
          15.0 * (static_cast<double>(h) + 0.5 + sun.solar_minus_clock_h - 12.0);
      east += wh * sin_deg(after_noon_deg);
      north += wh * cos_deg(after_noon_deg);
    }
    times.days += lit ? 1 : 0;
  }
  times.late_h = std::atan2(east, north) / kRadPerDeg / 15.0;
  return times;
}

void check_clock(WeatherRecord& record, const Sky& sky, const Coordinates& where) {
  constexpr int kLeastDays = 10;
  constexpr double kWrongClock_h = 1.5;
  constexpr double kWrongZone_h = 3.5;  // zones stray from the sun by up to 3 h
  constexpr double kShifted_h = 0.4;
  if (record.hours.empty()) return;
  const bool known = record.utc_offset_h.has_value();
  const double offset_h = known ? *record.utc_offset_h : std::round(where.longitude_deg / 15.0);
  const LightTimes times = light_times(record, sky, where, offset_h);
  const std::string late = fmt::format("{:.1f} h {} than the sun", std::abs(times.late_h),
                                       times.late_h > 0.0 ? "later" : "earlier");
  if (times.days >= kLeastDays && std::abs(times.late_h) > (known ? kWrongClock_h : kWrongZone_h)) {
    const double clock_h = std::round(offset_h + times.late_h);
    refuse_record(
        record, record.days.front().line, fmt::format("has its light {} at this place", late),
        "hours in standard time of the place",
        clock_h == 0.0 ? "The times look like UTC: give them in standard time, or mend the "
                         "place's longitude."
                       : fmt::format("The times look like UTC{:+.0f}: mend the UTC offset, the "
                                     "times or the place's longitude.",
                                     clock_h));
  }
  if (!known || times.night.count == 0) return;
  const bool shifted = times.days >= kLeastDays && std::abs(times.late_h) > kShifted_h;
  add_finding(record, times.night, "hour", "hours",
              shifted ? fmt::format("of night with light: it comes {}; hours may be named by "
                                    "their other end, or be in summer time",
                                    late)
                      : "of night with light: a clock that was off, or a sensor in lamp light");
}

}  // namespace

void check_quality(WeatherRecord& record, const Coordinates& where) {
  if (record.days.empty()) return;
  const Sky sky(record, where);
  check_units(record, sky);
  check_clock(record, sky, where);
  leave_out_stuck_irradiation(record, sky);
  leave_out_bright_hours(record, sky);
  leave_out_impossible_irradiation(record, sky);
  for (const auto& series : kTemperatures) check_temperature_unit(record, series);
  leave_out_impossible_temperatures(record);
  leave_out_swapped_temperatures(record);
  leave_out_stuck_temperatures(record);
  note_temperature_jumps(record);
}

}  // namespace dullspell
