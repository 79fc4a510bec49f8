#pragma once

#include <array>

#include "weather/solar_day.hpp"

namespace dullspell {

/// Hour's share of the day's total irradiation, taken at its middle: Collares-Pereira & Rabl 1979,
/// Solar Energy 22:155, doi:10.1016/0038-092X(79)90100-2. Sunset angle in (0, 180).
double total_share_of_hour(double hour_angle_deg, double sunset_hour_angle_deg);

/// Hour's share of the day's diffuse irradiation: Liu & Jordan 1960, Solar Energy 4(3):1,
/// doi:10.1016/0038-092X(60)90062-1.
double diffuse_share_of_hour(double hour_angle_deg, double sunset_hour_angle_deg);

/// Shares of one day's clock hours; each array adds up to 1, or is all zero in polar night.
struct DaylightShares {
  std::array<double, 24> total{};
  std::array<double, 24> diffuse{};
};

/// Weights each hour by its sunlit part and normalises. Where the formulas lose their meaning (days
/// shorter than about 20 minutes, polar day) the weight is the cosine of the zenith angle.
DaylightShares daylight_shares(const SolarDay& day);

}  // namespace dullspell
