#include <algorithm>

#include "weather/records/quality/checks.hpp"
#include "weather/records/quality/stuck_values.hpp"

namespace dullspell {
namespace {

void leave_out_stuck_irradiation(WeatherRecord& record, const JudgedDays& days) {
  constexpr std::size_t kLeast = 4;
  DayCount met;
  std::vector<std::optional<double>> values(days.size());
  for (std::size_t i = 0; i < days.size(); ++i) {
    const auto& ghi = days.day(i).ghi_kwh_m2;
    if (ghi && *ghi != 0.0 && days.above_air_wh_m2(i) > kSun_wh_m2) values[i] = ghi;
  }
  for (const Run& run : stuck_runs(record.days, values, kLeast)) {
    for (std::size_t i = run.first; i < run.last; ++i) {
      met.add(days.day(i));
      days.leave_out(i);
    }
  }
  add_day_finding(
      record, met,
      "in runs of the same irradiation day after day, as a stuck sensor gives: left out");
}

void leave_out_bright_hours(WeatherRecord& record, const JudgedDays& days) {
  constexpr double kMost_wh_m2 = 1500.0;  // above the air, with the sun overhead: 1361 and 3.4 %
  DayCount met;
  // Both are in order of dates.
  std::size_t i = 0;
  for (const RecordedHours& day : record.hours) {
    while (i < days.size() && days.day(i).date < day.date) ++i;
    if (i == days.size() || days.day(i).date != day.date) continue;
    const bool bright = std::any_of(day.ghi_wh_m2.begin(), day.ghi_wh_m2.end(),
                                    [](double wh) { return wh > kMost_wh_m2; });
    if (!bright) continue;
    met.add(days.day(i));
    days.leave_out(i);
  }
  add_day_finding(record, met, "with an hour above 1500 W/m2, more than the sun gives: left out");
}

void leave_out_impossible_irradiation(WeatherRecord& record, const JudgedDays& days) {
  DayCount above, below, none, dark;
  for (std::size_t i = 0; i < days.size(); ++i) {
    const RecordedDay& day = days.day(i);
    if (days.above_air_wh_m2(i) < kDark_wh_m2) {
      dark.add(day);
      continue;
    }
    if (!day.ghi_kwh_m2) continue;
    const double k = *day.ghi_kwh_m2 * 1000.0 / days.above_air_wh_m2(i);
    if (k < 0.0) {
      below.add(day);
    } else if (k > 1.0) {
      above.add(day);
    } else if (k == 0.0 && days.above_air_wh_m2(i) > kSun_wh_m2) {
      none.add(day);
    } else {
      continue;
    }
    days.leave_out(i);
  }
  add_day_finding(record, above, "with a clearness above 1: left out");
  add_day_finding(record, below, "with an irradiation below 0: left out");
  add_day_finding(record, none, "without any light although the sun was up: left out");
  add_day_finding(record, dark, "with next to no sun above the horizon: no clearness to judge");
}

}  // namespace

void check_irradiation(WeatherRecord& record, const JudgedDays& days) {
  leave_out_stuck_irradiation(record, days);
  leave_out_bright_hours(record, days);
  leave_out_impossible_irradiation(record, days);
}

}  // namespace dullspell
