#include <cmath>

#include <fmt/format.h>

#include "weather/angles.hpp"
#include "weather/records/quality/checks.hpp"
#include "weather/records/record_cells.hpp"

namespace dullspell {
namespace {

/// When the light of an hourly record comes, against the sun.
struct LightTimes {
  double late_h = 0.0;  ///< middle of the light after solar noon, -12..12
  LineCount night;      ///< hours with light while the sun was down
  int days = 0;
};

LightTimes light_times(const WeatherRecord& record, const JudgedDays& days,
                       const Coordinates& where, double utc_offset_h) {
  constexpr double kLight_w_m2 = 20.0;
  LightTimes times;
  double east = 0.0, north = 0.0;
  std::size_t i = 0;
  for (const RecordedHours& hours : record.hours) {
    const SolarDay sun = solar_day(hours.date, where, utc_offset_h);
    while (i < days.size() && days.day(i).date < hours.date) ++i;
    const bool known = i < days.size() && days.day(i).date == hours.date;
    bool lit = false;
    for (std::size_t h = 0; h < 24; ++h) {
      const double wh = hours.ghi_wh_m2[h];
      if (!(wh > kLight_w_m2)) continue;
      lit = true;
      if (sun.hours[h].share == 0.0) times.night.add(known ? days.day(i).line : 0);
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

}  // namespace

void check_clock(WeatherRecord& record, const JudgedDays& days, const Coordinates& where) {
  constexpr int kLeastDays = 10;
  constexpr double kWrongClock_h = 1.5;
  constexpr double kWrongZone_h = 3.5;  // zones stray from the sun by up to 3 h
  constexpr double kShifted_h = 0.4;
  if (record.hours.empty()) return;
  const bool known = record.utc_offset_h.has_value();
  const double offset_h = known ? *record.utc_offset_h : std::round(where.longitude_deg / 15.0);
  const LightTimes times = light_times(record, days, where, offset_h);
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

}  // namespace dullspell
