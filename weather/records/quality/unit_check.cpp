#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "weather/input/input_error.hpp"
#include "weather/records/quality/checks.hpp"
#include "weather/records/record_cells.hpp"

namespace dullspell {
namespace {

constexpr double kMostImpossibleShare = 1.0 / 3.0;
constexpr int kLeastDaysOfMonth = 5;

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

Months months_of(const JudgedDays& days) {
  Months months;
  for (std::size_t i = 0; i < days.size(); ++i) {
    const auto k = days.clearness(i);
    if (!k) continue;
    MonthOfYear& month = months[year_and_month(days.day(i).date)];
    month.days.push_back(i);
    month.k.push_back(*k);
  }
  for (auto& [at, month] : months) {
    for (const double k : month.k) month.mean += k / static_cast<double>(month.k.size());
    month.clear = quantile_of(month.k, 0.9);
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
  return means.size() >= kLeastOthers && month.mean < kFarBelow * quantile_of(means, 0.5) &&
         month.clear < kFarBelow * quantile_of(clears, 0.5);
}

void leave_out_months(WeatherRecord& record, const JudgedDays& days, const Months& months) {
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
      met.add(days.day(i));
      days.leave_out(i);
    }
  }
  if (count == 0) return;
  if (count > kNamed) names += fmt::format(" and {} more", count - kNamed);
  add_finding(record, {met.count, met.first->line}, "day", "days",
              fmt::format("of months whose irradiation is in another unit than the rest, or wrong "
                          "throughout ({}): left out",
                          names));
}

}  // namespace

void check_units(WeatherRecord& record, const JudgedDays& days) {
  const auto all = days.clearness();
  if (all.size() < kLeastDaysForUnit) return;
  const double clear_day = quantile_of(all, kClearDayProbability);
  if (all.size() >= kLeastDaysForDimUnit && clear_day < kLeastClearDay) {
    // A dim sensor is no slip of units: only a factor that fits one is refused.
    if (const Unit* unit = likely_unit(record, clear_day)) refuse_unit(record, clear_day, unit);
  }
  Months months = months_of(days);
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
  leave_out_months(record, days, months);
}

}  // namespace dullspell
