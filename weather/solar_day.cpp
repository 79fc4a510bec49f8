#include "weather/solar_day.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "weather/angles.hpp"
#include "weather/extraterrestrial_radiation.hpp"

namespace dullspell {
namespace {

Sun sun_at_solar_noon(Date date, double longitude_deg) {
  return almanac_sun(days_since_j2000(date, 12.0 - longitude_deg / 15.0));
}

// A clock hour may reach over solar midnight, where the hour angle jumps by a turn; daylight is
// then looked for one turn to either side too.
SunlitHour sunlit_part(double from_deg, double latitude_deg, double declination_deg,
                       double sunset_deg) {
  SunlitHour hour;
  double longest_deg = 0.0;
  for (const double turn_deg : {-360.0, 0.0, 360.0}) {
    const double from = std::max(from_deg + turn_deg, -sunset_deg);
    const double to = std::min(from_deg + 15.0 + turn_deg, sunset_deg);
    if (to <= from) continue;
    hour.share += (to - from) / 15.0;
    if (to - from > longest_deg) {
      longest_deg = to - from;
      hour.hour_angle_deg = 0.5 * (from + to);
    }
  }
  if (hour.share > 0.0) {
    hour.sun = sun_direction_from_hour_angle(latitude_deg, declination_deg, hour.hour_angle_deg);
    hour.cos_zenith = std::max(0.0, cos_deg(hour.sun.zenith_deg));
  }
  return hour;
}

}  // namespace

SolarDay solar_day(Date date, const Coordinates& where, double clock_offset_h) {
  const Sun sun = sun_at_solar_noon(date, where.longitude_deg);
  SolarDay day;
  day.declination_deg = sun.declination_deg;
  day.e0 = sun.e0();
  day.sunset_hour_angle_deg = sunset_hour_angle_deg(where.latitude_deg, sun.declination_deg);
  day.extraterrestrial_wh_m2 =
      daily_extraterrestrial_wh_m2(where.latitude_deg, sun.declination_deg, day.e0);
  day.solar_minus_clock_h =
      where.longitude_deg / 15.0 - clock_offset_h + sun.equation_of_time_min / 60.0;
  for (int h = 0; h < 24; ++h) {
    const double from_deg = wrap_to_180_deg(15.0 * (h + day.solar_minus_clock_h - 12.0));
    day.hours[static_cast<std::size_t>(h)] =
        sunlit_part(from_deg, where.latitude_deg, day.declination_deg, day.sunset_hour_angle_deg);
  }
  return day;
}

double extraterrestrial_of_date_wh_m2(Date date, const Coordinates& where) {
  const Sun sun = sun_at_solar_noon(date, where.longitude_deg);
  return daily_extraterrestrial_wh_m2(where.latitude_deg, sun.declination_deg, sun.e0());
}

double distance_km(const Coordinates& a, const Coordinates& b) {
  constexpr double kEarthRadius_km = 6371.0;
  const double half_lat = sin_deg(0.5 * (b.latitude_deg - a.latitude_deg));
  const double half_lon = sin_deg(0.5 * (b.longitude_deg - a.longitude_deg));
  const double h =
      half_lat * half_lat + cos_deg(a.latitude_deg) * cos_deg(b.latitude_deg) * half_lon * half_lon;
  return 2.0 * kEarthRadius_km * std::asin(std::sqrt(std::clamp(h, 0.0, 1.0)));
}

std::string km_and_miles(double km) {
  constexpr double kKmAMile = 1.609344;  // exact (NIST Handbook 44, appendix C)
  return fmt::format("{:.0f} km ({:.0f} mi)", km, km / kKmAMile);
}

}  // namespace dullspell
