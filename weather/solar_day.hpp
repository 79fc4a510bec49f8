#pragma once

#include <array>
#include <string>

#include "weather/calendar.hpp"
#include "weather/sun_position.hpp"

namespace dullspell {

/// Point on Earth; longitude positive east.
struct Coordinates {
  double latitude_deg;
  double longitude_deg;

  bool operator==(const Coordinates&) const = default;
};

/// The sunlit part of one clock hour.
struct SunlitHour {
  double share = 0.0;           ///< part of the hour with the sun up, 0..1
  double hour_angle_deg = 0.0;  ///< at the middle of that part
  double cos_zenith = 0.0;      ///< there, at least 0
  SunDirection sun{90.0, 0.0};  ///< there
};

/// Sun over one calendar date at one point, in the hours of a given clock. Declination, distance
/// and equation of time are those of that date's solar noon.
struct SolarDay {
  double declination_deg = 0.0;
  double e0 = 0.0;
  double sunset_hour_angle_deg = 0.0;   ///< 0 in polar night, 180 in polar day
  double extraterrestrial_wh_m2 = 0.0;  ///< of a horizontal plane, whole day
  double solar_minus_clock_h = 0.0;     ///< add to clock time to get solar time
  std::array<SunlitHour, 24> hours;
};

/// `clock_offset_h` is clock time minus UTC, summer time included.
SolarDay solar_day(Date date, const Coordinates& where, double clock_offset_h);

/// Extraterrestrial irradiation of a horizontal plane on a date, Wh/m2.
double extraterrestrial_of_date_wh_m2(Date date, const Coordinates& where);

/// Distance along the great circle, km (sphere of radius 6371 km).
double distance_km(const Coordinates& a, const Coordinates& b);

/// "412 km (256 mi)", for texts that are read before anybody could ask for units.
std::string km_and_miles(double km);

}  // namespace dullspell
