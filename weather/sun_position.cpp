#include "weather/sun_position.hpp"

#include <algorithm>
#include <cmath>

#include "weather/angles.hpp"

namespace dullspell {
namespace {

double spencer_angle_rad(int day_of_year) {
  return 2.0 * std::numbers::pi * (day_of_year - 1) / 365.0;
}

}  // namespace

double days_since_j2000(Date date, double hour_utc) {
  const auto whole_days = (date - make_date(2000, 1, 1)).count();
  return static_cast<double>(whole_days) + (hour_utc - 12.0) / 24.0;
}

Sun almanac_sun(double n) {
  const double mean_longitude_deg = wrap_to_360_deg(280.460 + 0.9856474 * n);
  const double anomaly_deg = wrap_to_360_deg(357.528 + 0.9856003 * n);
  const double ecliptic_longitude_deg =
      mean_longitude_deg + 1.915 * sin_deg(anomaly_deg) + 0.020 * sin_deg(2.0 * anomaly_deg);
  const double obliquity_deg = 23.439 - 4e-7 * n;

  Sun sun{};
  sun.right_ascension_deg = std::atan2(cos_deg(obliquity_deg) * sin_deg(ecliptic_longitude_deg),
                                       cos_deg(ecliptic_longitude_deg)) /
                            kRadPerDeg;
  sun.declination_deg =
      std::asin(sin_deg(obliquity_deg) * sin_deg(ecliptic_longitude_deg)) / kRadPerDeg;
  sun.equation_of_time_min = 4.0 * wrap_to_180_deg(mean_longitude_deg - sun.right_ascension_deg);
  sun.distance_au = 1.00014 - 0.01671 * cos_deg(anomaly_deg) - 0.00014 * cos_deg(2.0 * anomaly_deg);
  return sun;
}

bool almanac_holds(Date date) {
  return date >= make_date(1950, 1, 1) && date < make_date(2050, 1, 1);
}

SunDirection sun_direction_from_hour_angle(double latitude_deg, double declination_deg,
                                           double hour_angle_deg) {
  const double cos_zenith =
      sin_deg(latitude_deg) * sin_deg(declination_deg) +
      cos_deg(latitude_deg) * cos_deg(declination_deg) * cos_deg(hour_angle_deg);
  // Both arguments carry the factor cos(declination), which is never zero for the sun.
  const double west = sin_deg(hour_angle_deg) * cos_deg(declination_deg);
  const double south = cos_deg(hour_angle_deg) * cos_deg(declination_deg) * sin_deg(latitude_deg) -
                       sin_deg(declination_deg) * cos_deg(latitude_deg);
  return {std::acos(std::clamp(cos_zenith, -1.0, 1.0)) / kRadPerDeg,
          wrap_to_360_deg(180.0 + std::atan2(west, south) / kRadPerDeg)};
}

SunDirection sun_direction(double n, double latitude_deg, double longitude_deg) {
  const Sun sun = almanac_sun(n);
  const double hour_utc = 24.0 * (n + 0.5 - std::floor(n + 0.5));
  const double sidereal_h = 6.697375 + 0.0657098242 * n + hour_utc;
  const double hour_angle_deg =
      wrap_to_180_deg(15.0 * sidereal_h + longitude_deg - sun.right_ascension_deg);
  return sun_direction_from_hour_angle(latitude_deg, sun.declination_deg, hour_angle_deg);
}

double spencer_declination_deg(int day_of_year) {
  const double g = spencer_angle_rad(day_of_year);
  return (0.006918 - 0.399912 * std::cos(g) + 0.070257 * std::sin(g) - 0.006758 * std::cos(2 * g) +
          0.000907 * std::sin(2 * g) - 0.002697 * std::cos(3 * g) + 0.00148 * std::sin(3 * g)) /
         kRadPerDeg;
}

double spencer_e0(int day_of_year) {
  const double g = spencer_angle_rad(day_of_year);
  return 1.00011 + 0.034221 * std::cos(g) + 0.00128 * std::sin(g) + 0.000719 * std::cos(2 * g) +
         0.000077 * std::sin(2 * g);
}

double spencer_equation_of_time_min(int day_of_year) {
  const double g = spencer_angle_rad(day_of_year);
  return 229.18 * (0.0000075 + 0.001868 * std::cos(g) - 0.032077 * std::sin(g) -
                   0.014615 * std::cos(2 * g) - 0.040849 * std::sin(2 * g));
}

double cooper_declination_deg(int day_of_year) {
  return 23.45 * sin_deg(360.0 * (284 + day_of_year) / 365.0);
}

}  // namespace dullspell
