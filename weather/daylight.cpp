#include "weather/daylight.hpp"

#include <cmath>

#include "weather/angles.hpp"

namespace dullspell {
namespace {

constexpr double kSunset_deg = -50.0 / 60.0;  // elevation of the sun's centre

// Half of the time between sunrise and sunset as an angle, 0..180.
double half_daylight_deg(double latitude_deg, double declination_deg) {
  const double reaches = sin_deg(kSunset_deg) - sin_deg(latitude_deg) * sin_deg(declination_deg);
  const double turns = cos_deg(latitude_deg) * cos_deg(declination_deg);
  if (reaches >= turns) return 0.0;
  if (reaches <= -turns) return 180.0;
  return std::acos(reaches / turns) / kRadPerDeg;
}

int minute_of_day(double clock_h) {
  const int minute = static_cast<int>(std::lround(60.0 * clock_h)) % 1440;
  return minute < 0 ? minute + 1440 : minute;
}

}  // namespace

std::vector<ClockWindow> daylight(const SolarDay& day, double latitude_deg) {
  const double half_h = half_daylight_deg(latitude_deg, day.declination_deg) / 15.0;
  if (half_h <= 0.0) return {};
  constexpr double kMinute_h = 1.0 / 60.0;
  if (half_h >= 12.0 - kMinute_h) return {kWholeDay};
  const double noon_h = 12.0 - day.solar_minus_clock_h;
  const int from = minute_of_day(noon_h - half_h), to = minute_of_day(noon_h + half_h);
  if (from == to) return {};
  return {{from, to == 0 ? 1440 : to}};
}

}  // namespace dullspell
