#pragma once

#include "weather/calendar.hpp"

namespace dullspell {

/// Where the sun stands among the stars and how far it is.
struct Sun {
  double declination_deg;
  double right_ascension_deg;
  double equation_of_time_min;  ///< apparent minus mean solar time
  double distance_au;

  /// Solar irradiance at this distance over that at 1 au.
  double e0() const { return 1.0 / (distance_au * distance_au); }
};

/// Direction to the centre of the sun's disc, without refraction.
struct SunDirection {
  double zenith_deg;   ///< 0..180, 90 at the horizon
  double azimuth_deg;  ///< clockwise from north, 0..360

  double elevation_deg() const { return 90.0 - zenith_deg; }
};

/// Days since 2000-01-01 12:00 UT.
double days_since_j2000(Date date, double hour_utc);

/// Low-precision formulas of the Astronomical Almanac (Michalsky 1988, Solar Energy 40:227,
/// doi:10.1016/0038-092X(88)90045-X), valid 1950..2050 to about 0.01 deg.
Sun almanac_sun(double days_since_j2000);

/// Whether they hold on a date, with a year to spare: 1950 to 2049.
bool almanac_holds(Date date);

/// Direction of the sun at an instant; latitude -90..90, longitude positive east.
SunDirection sun_direction(double days_since_j2000, double latitude_deg, double longitude_deg);

/// Direction from declination and hour angle (0 at solar noon, positive in the afternoon); valid in
/// both hemispheres, at the poles and in polar day.
SunDirection sun_direction_from_hour_angle(double latitude_deg, double declination_deg,
                                           double hour_angle_deg);

/// Spencer 1971 (Search 2:172) and Cooper 1969 declinations: the handbook forms, for comparison
/// with tables that were made with them. `day_of_year` 1..365.
double spencer_declination_deg(int day_of_year);
double spencer_e0(int day_of_year);
double spencer_equation_of_time_min(int day_of_year);
double cooper_declination_deg(int day_of_year);

}  // namespace dullspell
