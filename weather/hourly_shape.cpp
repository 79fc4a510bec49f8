#include "weather/hourly_shape.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "weather/angles.hpp"

namespace dullspell {
namespace {

void normalise(std::array<double, 24>& weights) {
  const double sum = std::accumulate(weights.begin(), weights.end(), 0.0);
  if (sum <= 0.0) return;
  for (double& w : weights) w /= sum;
}

}  // namespace

double diffuse_share_of_hour(double hour_angle_deg, double sunset_deg) {
  const double numerator = cos_deg(hour_angle_deg) - cos_deg(sunset_deg);
  const double denominator = sin_deg(sunset_deg) - sunset_deg * kRadPerDeg * cos_deg(sunset_deg);
  return std::numbers::pi / 24.0 * numerator / denominator;
}

double total_share_of_hour(double hour_angle_deg, double sunset_deg) {
  const double a = 0.409 + 0.5016 * sin_deg(sunset_deg - 60.0);
  const double b = 0.6609 - 0.4767 * sin_deg(sunset_deg - 60.0);
  return (a + b * cos_deg(hour_angle_deg)) * diffuse_share_of_hour(hour_angle_deg, sunset_deg);
}

DaylightShares daylight_shares(const SolarDay& day) {
  constexpr double kShortest_deg = 2.5, kLongest_deg = 177.5;
  const bool formulas_hold =
      day.sunset_hour_angle_deg > kShortest_deg && day.sunset_hour_angle_deg < kLongest_deg;
  DaylightShares shares;
  for (std::size_t h = 0; h < 24; ++h) {
    const SunlitHour& hour = day.hours[h];
    if (hour.share <= 0.0) continue;
    const double total = formulas_hold
                             ? total_share_of_hour(hour.hour_angle_deg, day.sunset_hour_angle_deg)
                             : hour.cos_zenith;
    const double diffuse =
        formulas_hold ? diffuse_share_of_hour(hour.hour_angle_deg, day.sunset_hour_angle_deg)
                      : hour.cos_zenith;
    shares.total[h] = hour.share * std::max(0.0, total);
    shares.diffuse[h] = hour.share * std::max(0.0, diffuse);
  }
  normalise(shares.total);
  normalise(shares.diffuse);
  return shares;
}

}  // namespace dullspell
