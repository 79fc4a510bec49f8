#pragma once

#include <array>
#include <span>
#include <vector>

#include "weather/blend/regressors.hpp"
#include "weather/per_statistic.hpp"

namespace dullspell {

/// Kinds of sites, as far as they know their months differently well.
enum class SiteKind { measured, measured_one_year, typical_us, typical_elsewhere, sunshine, city };
constexpr std::size_t kSiteKinds = 6;

/// How departures from the regression hang together in space, of one number of cycles a year:
/// their covariance at a distance of d km is near_sd^2 exp(-d / near_km) + far_sd^2 exp(-d /
/// far_km), and local_sd^2 more at the same spot. On top come the sites' own errors.
struct DepartureModel {
  double near_sd, near_km, far_sd, far_km, local_sd;
  std::array<double, kSiteKinds> site_error;  ///< by SiteKind

  double covariance(double km) const;
  double variance() const { return covariance(0.0) + local_sd * local_sd; }
};

struct RegressionTerm {
  Regressor what;
  double coefficient;
};

/// How one statistic's months come about at any place: regression and departures.
struct StatisticModel {
  std::vector<RegressionTerm> terms;
  std::vector<DepartureModel> departures;  ///< by cycles a year; those beyond the last are none
  /// Of a measured month, over the square root of the years; 0: as `site_error` says. Sites whose
  /// clearness comes from sunshine hours have measured temperatures.
  double month_error = 0.0;
  double instrument_error = 0.0;  ///< of all measured months alike
  double more_error = 0.0;        ///< instruments and decades, at any place

  /// The regression's part.
  MonthVector regression(const Circumstances& at) const;

  /// Error variance of a site's harmonic.
  double site_variance(SiteKind kind, double years, int cycles) const;

  /// Variance of the departure's harmonics where no site is known.
  Harmonics prior_variance() const;
};

/// Estimated from the built-in sites, measured records and the world grid by maximum likelihood;
/// tests/calibration/blend says how, and how well it does. Year share is the same everywhere.
const StatisticModel& blend_model(std::size_t statistic);

/// What typical years of the US lack of the spread of daily clearness: what single months of single
/// years differ by, in quadrature, and a share of the spread with a season.
constexpr double kOneYearLacks = 0.042;
constexpr double kTypicalLacks = 0.0079, kTypicalLacksInWinter = 0.0648;

/// Variance of k_mean is so much greater in winter, as a share, and less in summer.
constexpr double kWinterVariance = 0.17;
/// What cycles beyond two add to a month of k_mean.
constexpr double kHigherCyclesSd = 0.0008;
/// A mean temperature far from all sites is off by so much more, K, as the departure's variance
/// comes up to that of no site at all.
constexpr double kFarMore_c = 1.27;
constexpr double kYearShare = 0.07, kYearShareError = 0.055;

/// How sites lie above the grid's elevation, over 100 m and the relief: people live in valleys.
constexpr double kHeightMean = -0.983, kHeightSd = 1.288, kHeightKm = 540.0;
constexpr double kReliefAtLeast_m = 100.0;

}  // namespace dullspell
