#include "weather/extraterrestrial_radiation.hpp"

#include <algorithm>
#include <cmath>

#include "weather/angles.hpp"

namespace dullspell {

double sunset_hour_angle_deg(double latitude_deg, double declination_deg) {
  const double cos_sunset = -tan_deg(latitude_deg) * tan_deg(declination_deg);
  return std::acos(std::clamp(cos_sunset, -1.0, 1.0)) / kRadPerDeg;
}

double extraterrestrial_between_wh_m2(double latitude_deg, double declination_deg, double e0,
                                      double from_hour_angle_deg, double to_hour_angle_deg,
                                      double solar_constant_w_m2) {
  const double sunset_deg = sunset_hour_angle_deg(latitude_deg, declination_deg);
  const double from = std::clamp(from_hour_angle_deg, -sunset_deg, sunset_deg);
  const double to = std::clamp(to_hour_angle_deg, -sunset_deg, sunset_deg);
  const double curve =
      cos_deg(latitude_deg) * cos_deg(declination_deg) * (sin_deg(to) - sin_deg(from));
  const double level = sin_deg(latitude_deg) * sin_deg(declination_deg) * (to - from) * kRadPerDeg;
  constexpr double kHoursPerRad = 12.0 / std::numbers::pi;
  return std::max(0.0, kHoursPerRad * solar_constant_w_m2 * e0 * (curve + level));
}

double daily_extraterrestrial_wh_m2(double latitude_deg, double declination_deg, double e0,
                                    double solar_constant_w_m2) {
  return extraterrestrial_between_wh_m2(latitude_deg, declination_deg, e0, -180.0, 180.0,
                                        solar_constant_w_m2);
}

}  // namespace dullspell
