#pragma once

#include <array>
#include <optional>

#include <Eigen/Core>

#include "weather/blend/world_grid.hpp"

namespace dullspell {

/// A value a month.
using MonthVector = Eigen::Matrix<double, 12, 1>;

inline MonthVector month_vector(const std::array<double, 12>& months) {
  return Eigen::Map<const MonthVector>(months.data());
}

/// A year's course as its mean and its waves of one and two cycles: coefficients of
/// harmonic_basis().
constexpr int kHarmonics = 5;
using Harmonics = Eigen::Matrix<double, kHarmonics, 1>;

/// Orthonormal columns: the mean; cosine and sine of one cycle a year, from January on; of two.
const Eigen::Matrix<double, 12, kHarmonics>& harmonic_basis();

/// Cycles a year of each column: 0, 1, 1, 2, 2.
constexpr int cycles_of(int harmonic) {
  return (harmonic + 1) / 2;
}

/// What a place's months are regressed on.
enum class Regressor {
  one,
  winter,     ///< cosine of one cycle, 1 in January, -1 in the south, fading within the tropics
  spring,     ///< its sine
  latitude,   ///< |latitude|, up to 65 degrees, / 90 - 0.45
  land,       ///< the grid's share of land - 0.6
  grid_mean,  ///< the yearly mean of the grid's clearness, 0.25..0.70, - 0.5
  grid_year,  ///< its wave of one cycle
  grid_half,  ///< of two
  latitude_winter,
  latitude_spring,
  land_winter,
  height,  ///< km above the grid's elevation, -3..3; 0 where it is not known
  height_winter,
  height_spring,
  low_height_winter,  ///< the same within -1.5..1.5 km
  low_height_spring,
  clearness,  ///< the place's own, 0.20..0.75, - 0.5
  clearness_squared,
  swing,  ///< half of the grid's yearly wave of temperature, in 10 K, - 1
  swing_winter,
  grid_range,  ///< the grid's daily range of temperature, in 10 K, - 1
};

/// What regressors are made of at one place.
struct Circumstances {
  double latitude_deg = 0.0;
  GridMonths grid;
  std::optional<double> elevation_m;
  MonthVector k_mean = MonthVector::Zero();
};

MonthVector regressor(Regressor what, const Circumstances& at);

}  // namespace dullspell
