#pragma once

namespace dullspell {

/// Diffuse share of an hour's irradiation from its clearness index 0..1: Erbs, Klein & Duffie 1982,
/// Solar Energy 28:293, doi:10.1016/0038-092X(82)90302-4.
double erbs_hourly_diffuse_share(double clearness);

/// Diffuse share of a day's irradiation, same source; the season enters by the sunset hour angle
/// (winter up to 81.4 deg). Never above 1.
double erbs_daily_diffuse_share(double clearness, double sunset_hour_angle_deg);

}  // namespace dullspell
