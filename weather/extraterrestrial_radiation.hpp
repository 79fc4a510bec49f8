#pragma once

namespace dullspell {

/// Kopp & Lean 2011, doi:10.1029/2010GL045777. Clearness indices depend on it: one value
/// everywhere.
constexpr double kSolarConstant_w_m2 = 1361.0;

/// Half of the day's length as an angle: 0 in polar night, 180 in polar day.
double sunset_hour_angle_deg(double latitude_deg, double declination_deg);

/// Irradiation of a horizontal plane above the air in one day, Wh/m2 (Duffie & Beckman 1.10.3).
double daily_extraterrestrial_wh_m2(double latitude_deg, double declination_deg, double e0,
                                    double solar_constant_w_m2 = kSolarConstant_w_m2);

/// The same between two hour angles of one day, clipped to daylight, Wh/m2 (Duffie &
/// Beckman 1.10.4).
double extraterrestrial_between_wh_m2(double latitude_deg, double declination_deg, double e0,
                                      double from_hour_angle_deg, double to_hour_angle_deg,
                                      double solar_constant_w_m2 = kSolarConstant_w_m2);

}  // namespace dullspell
