#include "weather/temperature.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dullspell {

double temperature_swing(double solar_hour) {
  return 0.5 * std::cos(2.0 * std::numbers::pi * (solar_hour - 15.0) / 24.0);
}

double warmer_by_height_k(double from_m, double to_m) {
  constexpr double kLapse_k_per_m = -0.0065;
  return kLapse_k_per_m * (to_m - from_m);
}

double daily_range_c(double expected_c, double k_slope, double k, double k_mean) {
  return std::max(1.0, expected_c + k_slope * (k - k_mean));
}

double independent_temperature_persistence(double temp_persistence, double correlation,
                                           double chi_lag1) {
  const double shared = correlation * correlation;
  return std::clamp((temp_persistence - shared * chi_lag1) / (1.0 - shared), -0.95, 0.95);
}

}  // namespace dullspell
