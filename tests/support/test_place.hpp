#pragma once

#include <array>

#include "weather/place.hpp"

namespace dullspell {

/// Months that differ from their neighbours about as much as months can.
constexpr std::array<double, 12> kContrastingMeans{0.28, 0.52, 0.33, 0.60, 0.45, 0.66,
                                                   0.70, 0.55, 0.62, 0.35, 0.50, 0.25};

/// A place in the middle north, its months known by their means alone.
inline Place place_with_means(const std::array<double, 12>& k_means) {
  Place place;
  place.id = "test-camp";
  place.name = "Test Camp";
  place.where = {45.0, -110.0};
  place.utc_offset_h = -7.0;
  place.source = "made up";
  for (int m = 0; m < 12; ++m) {
    const auto i = static_cast<std::size_t>(m);
    place.months[i] = default_month(m, place.where.latitude_deg);
    place.months[i].k_mean = k_means[i];
  }
  return place;
}

/// The same with a beta distribution of spread `k_sd` in every month.
inline Place place_with_spread(const std::array<double, 12>& k_means, double k_sd) {
  Place place = place_with_means(k_means);
  for (MonthStatistics& month : place.months) month.k_sd = k_sd;
  return place;
}

/// The same with quantiles: a long dull tail, scaled to each month's mean.
inline Place place_with_quantiles(const std::array<double, 12>& k_means) {
  Place place = place_with_means(k_means);
  constexpr std::array<double, 9> kShape{0.05, 0.15, 0.25, 0.60, 1.05, 1.40, 1.55, 1.60, 1.70};
  const double shape_mean = QuantileClearness(kShape).mean();
  for (MonthStatistics& month : place.months) {
    std::array<double, 9> quantiles = kShape;
    for (double& k : quantiles) k *= 0.8 * month.k_mean.value / shape_mean;
    month.k_mean.value *= 0.8;  // so that the greatest stays below 1
    month.k_quantiles = quantiles;
  }
  return place;
}

}  // namespace dullspell
