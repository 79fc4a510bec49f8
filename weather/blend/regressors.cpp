#include "weather/blend/regressors.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dullspell {
namespace {

constexpr double kTropic_deg = 23.45;
constexpr double kFarthest_deg = 65.0;  // few sites lie nearer to a pole

// The part of a year's course that has so many cycles.
MonthVector wave(const MonthVector& course, int cycles) {
  MonthVector out = MonthVector::Zero();
  for (int j = 0; j < kHarmonics; ++j) {
    if (cycles_of(j) == cycles) {
      out += harmonic_basis().col(j) * harmonic_basis().col(j).dot(course);
    }
  }
  return out;
}

// Cosine or sine of the year, turned round in the south.
MonthVector season(double latitude_deg, int harmonic) {
  const double half_year = std::clamp(latitude_deg / kTropic_deg, -1.0, 1.0);
  return half_year * std::sqrt(6.0) * harmonic_basis().col(harmonic);
}

double swing_of(const GridMonths& grid) {
  const Harmonics course = harmonic_basis().transpose() * month_vector(grid.temp_mean_c);
  return std::hypot(course[1], course[2]) / std::sqrt(6.0) / 10.0 - 1.0;
}

}  // namespace

const Eigen::Matrix<double, 12, kHarmonics>& harmonic_basis() {
  static const Eigen::Matrix<double, 12, kHarmonics> basis = [] {
    Eigen::Matrix<double, 12, kHarmonics> out;
    for (int m = 0; m < 12; ++m) {
      out(m, 0) = 1.0 / std::sqrt(12.0);
      for (int j = 1; j < kHarmonics; ++j) {
        const double angle = 2.0 * std::numbers::pi * cycles_of(j) * m / 12.0;
        out(m, j) = (j % 2 == 1 ? std::cos(angle) : std::sin(angle)) / std::sqrt(6.0);
      }
    }
    return out;
  }();
  return basis;
}

MonthVector regressor(Regressor what, const Circumstances& at) {
  const MonthVector one = MonthVector::Ones();
  const MonthVector winter = season(at.latitude_deg, 1), spring = season(at.latitude_deg, 2);
  const double latitude = std::min(std::abs(at.latitude_deg), kFarthest_deg) / 90.0 - 0.45;
  const double land = at.grid.land_share - 0.6;
  const double height_km =
      at.elevation_m ? std::clamp((*at.elevation_m - at.grid.elevation_m) / 1000.0, -3.0, 3.0)
                     : 0.0;
  const double low_height_km = std::clamp(height_km, -1.5, 1.5);
  const MonthVector clearness = at.k_mean.cwiseMax(0.20).cwiseMin(0.75) - 0.5 * one;
  switch (what) {
    case Regressor::one:
      return one;
    case Regressor::winter:
      return winter;
    case Regressor::spring:
      return spring;
    case Regressor::latitude:
      return latitude * one;
    case Regressor::land:
      return land * one;
    case Regressor::grid_mean:
      return wave(month_vector(at.grid.k_mean), 0).cwiseMax(0.25).cwiseMin(0.70) - 0.5 * one;
    case Regressor::grid_year:
      return wave(month_vector(at.grid.k_mean), 1);
    case Regressor::grid_half:
      return wave(month_vector(at.grid.k_mean), 2);
    case Regressor::latitude_winter:
      return latitude * winter;
    case Regressor::latitude_spring:
      return latitude * spring;
    case Regressor::land_winter:
      return land * winter;
    case Regressor::height:
      return height_km * one;
    case Regressor::height_winter:
      return height_km * winter;
    case Regressor::height_spring:
      return height_km * spring;
    case Regressor::low_height_winter:
      return low_height_km * winter;
    case Regressor::low_height_spring:
      return low_height_km * spring;
    case Regressor::clearness:
      return clearness;
    case Regressor::clearness_squared:
      return clearness.cwiseProduct(clearness);
    case Regressor::swing:
      return swing_of(at.grid) * one;
    case Regressor::swing_winter:
      return swing_of(at.grid) * winter;
    case Regressor::grid_range:
      return month_vector(at.grid.temp_range_c) / 10.0 - one;
  }
  return MonthVector::Zero();
}

}  // namespace dullspell
