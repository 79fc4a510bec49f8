#include "weather/blend/blender.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>
#include <Eigen/Core>

#include "weather/linear_system.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kNeighbors = 40;
constexpr PerStatistic<std::size_t> kIndex{0, 1, 2, 3, 4, 5, 6, 7, 8, 9};

// What months may be, however far the regression reaches.
struct Bounds {
  double low, high;
};
constexpr PerStatistic<Bounds> kBounds{{0.02, 0.80}, {0.03, 0.30}, {0.0, 0.8},  {0.0, 0.5},
                                       {-90, 60},    {1.0, 40.0},  {0.5, 12.0}, {0.0, 0.9},
                                       {-0.8, 0.8},  {-10.0, 40.0}};

MonthVector within(const MonthVector& values, const Bounds& bounds) {
  return values.cwiseMax(bounds.low).cwiseMin(bounds.high);
}

// Variance of each month, of independent harmonics.
MonthVector variance_of_months(const Harmonics& variance) {
  return harmonic_basis().cwiseProduct(harmonic_basis()) * variance;
}

void sort_by_distance(BlendTarget& target) {
  std::stable_sort(
      target.by_distance.begin(), target.by_distance.end(),
      [&](std::size_t a, std::size_t b) { return target.distance_km[a] < target.distance_km[b]; });
}

}  // namespace

void BlendedMonths::close(std::size_t statistic, double more_error) {
  values[statistic] = within(values[statistic], kBounds[statistic]);
  variances[statistic].array() += more_error * more_error;
}

std::optional<std::size_t> Blender::find(std::string_view id) const {
  for (std::size_t i = 0; i < sites_.count(); ++i) {
    if (sites_.site(i).id == id) return i;
  }
  return std::nullopt;
}

// Even at a site's own spot another place is another one.
constexpr double kNext_km = 1e-9;

BlendTarget Blender::target(const Coordinates& where, std::optional<double> elevation_m,
                            double leave_out_km) const {
  BlendTarget target{where, elevation_m, {}, {}, {}};
  for (std::size_t i = 0; i < sites_.count(); ++i) {
    target.distance_km.push_back(std::max(kNext_km, distance_km(where, sites_.site(i).where)));
    if (target.distance_km.back() > leave_out_km) target.by_distance.push_back(i);
  }
  sort_by_distance(target);
  return target;
}

BlendTarget Blender::target(std::size_t own) const {
  const PlaceSummary& site = sites_.site(own);
  BlendTarget target = this->target(site.where, site.elevation_m, -1.0);
  target.own = own;
  target.distance_km[own] = 0.0;
  sort_by_distance(target);
  return target;
}

Blender::Departure Blender::departure(const BlendTarget& target, std::size_t statistic) const {
  const StatisticModel& model = blend_model(statistic);
  const bool of_sky = statistic == kIndex.k_mean || statistic == kIndex.k_sd;
  std::vector<std::size_t> used;
  for (const std::size_t i : target.by_distance) {
    if (of_sky && sites_.contradicts_neighbors(i) && i != target.own) continue;
    if (!sites_.of(i, statistic)) continue;
    used.push_back(i);
    if (used.size() == kNeighbors) break;
  }
  Departure out;
  const auto n = static_cast<Eigen::Index>(used.size());
  Eigen::MatrixXd between(n, n), departures(n, kHarmonics);
  for (Eigen::Index a = 0; a < n; ++a) {
    const PlaceSummary& site = sites_.site(used[static_cast<std::size_t>(a)]);
    departures.row(a) = sites_.of(used[static_cast<std::size_t>(a)], statistic)->transpose();
    between(a, a) = 0.0;
    for (Eigen::Index b = 0; b < a; ++b) {
      between(a, b) = between(b, a) =
          distance_km(site.where, sites_.site(used[static_cast<std::size_t>(b)]).where);
    }
  }
  for (int cycles = 0; cycles < static_cast<int>(model.departures.size()); ++cycles) {
    const DepartureModel& field = model.departures[static_cast<std::size_t>(cycles)];
    const auto covariance = [&](double km) { return field.covariance(km); };
    Eigen::MatrixXd among = between.unaryExpr(covariance);
    Eigen::VectorXd here(n);
    for (Eigen::Index a = 0; a < n; ++a) {
      const std::size_t i = used[static_cast<std::size_t>(a)];
      const double local = field.local_sd * field.local_sd;
      among(a, a) += local + sites_.variance(i, statistic, cycles);
      here[a] = field.covariance(target.distance_km[i]) + (i == target.own ? local : 0.0);
    }
    const Eigen::VectorXd weights = solve_symmetric(among, here);
    const double variance = std::max(0.0, field.variance() - here.dot(weights));
    for (int j = 0; j < kHarmonics; ++j) {
      if (cycles_of(j) != cycles) continue;
      out.mean[j] = weights.dot(departures.col(j));
      out.variance[j] = variance;
    }
  }
  return out;
}

// Towns and stations lie lower than the cells around them, the more so the hillier it is; how much,
// those nearby say.
Blender::Height Blender::usual_height(const BlendTarget& target) const {
  std::vector<std::size_t> used;
  for (const std::size_t i : target.by_distance) {
    if (used.size() == kNeighbors) break;
    if (sites_.site(i).elevation_m) used.push_back(i);
  }
  const auto n = static_cast<Eigen::Index>(used.size());
  const auto covariance = [](double km) {
    return kHeightSd * kHeightSd * std::exp(-km / kHeightKm);
  };
  Eigen::MatrixXd among(n, n);
  Eigen::VectorXd here(n), departures(n);
  for (Eigen::Index a = 0; a < n; ++a) {
    const std::size_t i = used[static_cast<std::size_t>(a)];
    const PlaceSummary& site = sites_.site(i);
    here[a] = covariance(target.distance_km[i]);
    departures[a] = (*site.elevation_m - grid_.at(site.where).elevation_m) /
                        (kReliefAtLeast_m + grid_.relief_m(site.where)) -
                    kHeightMean;
    for (Eigen::Index b = 0; b < n; ++b) {
      among(a, b) =
          covariance(distance_km(site.where, sites_.site(used[static_cast<std::size_t>(b)]).where));
    }
  }
  const Eigen::VectorXd weights = solve_symmetric(among, here);
  const double unit_m = kReliefAtLeast_m + grid_.relief_m(target.where);
  return {(kHeightMean + weights.dot(departures)) * unit_m,
          std::sqrt(std::max(0.0, kHeightSd * kHeightSd - here.dot(weights))) * unit_m};
}

void Blender::estimate(const BlendTarget& target, const Circumstances& at, std::size_t statistic,
                       BlendedMonths& out) const {
  const StatisticModel& model = blend_model(statistic);
  const Departure departure = this->departure(target, statistic);
  out.values[statistic] = model.regression(at) + harmonic_basis() * departure.mean;
  out.variances[statistic] = variance_of_months(departure.variance);
  if (statistic == kIndex.k_mean) out.values[statistic] += month_vector(at.grid.k_mean);
  if (statistic == kIndex.temp_mean_c) {
    out.values[statistic] += month_vector(at.grid.temp_mean_c);
    const MonthVector known =
        out.variances[statistic].cwiseQuotient(variance_of_months(model.prior_variance()));
    out.variances[statistic] += kFarMore_c * kFarMore_c * known.cwiseProduct(known);
  }
}

void Blender::estimate_clearness(const BlendTarget& target, const Circumstances& at,
                                 BlendedMonths& out) const {
  estimate(target, at, kIndex.k_mean, out);
  const MonthVector winter = regressor(Regressor::winter, at);
  out.variances.k_mean =
      out.variances.k_mean.cwiseProduct(MonthVector::Ones() + kWinterVariance * winter);
  out.close(kIndex.k_mean, kHigherCyclesSd);
  if (target.own && sites_.contradicts_neighbors(*target.own)) {
    const MonthVector off = 0.5 * (sites_.k_mean(*target.own) - out.values.k_mean);
    out.variances.k_mean += off.cwiseProduct(off);
  }
}

// A regression on the mean is as uncertain as the mean.
void Blender::estimate_spread(const BlendTarget& target, Circumstances at,
                              BlendedMonths& out) const {
  estimate(target, at, kIndex.k_sd, out);
  constexpr double kStep = 0.02;
  const StatisticModel& model = blend_model(kIndex.k_sd);
  const double instrument = blend_model(kIndex.k_mean).instrument_error;
  at.k_mean.array() += 0.5 * kStep;
  MonthVector slope = model.regression(at);
  at.k_mean.array() -= kStep;
  slope = (slope - model.regression(at)) / kStep;
  out.variances.k_sd.array() +=
      slope.array().square() * (out.variances.k_mean.array() + instrument * instrument);
  out.close(kIndex.k_sd, model.more_error);
}

void Blender::estimate_temperature(const BlendTarget& target, Circumstances at,
                                   std::optional<Height> unknown, BlendedMonths& out) const {
  const StatisticModel& model = blend_model(kIndex.temp_mean_c);
  MonthVector by_height = MonthVector::Zero();
  if (unknown) {
    constexpr double kStep_m = 100.0;
    const double usual_m = at.grid.elevation_m + unknown->above_grid_m;
    at.elevation_m = usual_m + 0.5 * kStep_m;
    by_height = model.regression(at);
    at.elevation_m = usual_m - 0.5 * kStep_m;
    by_height = (by_height - model.regression(at)) / kStep_m * unknown->error_m;
    at.elevation_m = usual_m;
  }
  estimate(target, at, kIndex.temp_mean_c, out);
  out.variances.temp_mean_c += by_height.cwiseProduct(by_height);
  out.close(kIndex.temp_mean_c, model.more_error);
}

BlendedMonths Blender::months(const BlendTarget& target) const {
  BlendedMonths out;
  Circumstances at{target.where.latitude_deg, grid_.at(target.where), target.elevation_m,
                   MonthVector::Zero()};
  // Where the height is not known, it is the usual one of places around; but a site's own months
  // tell of its height.
  std::optional<Height> unknown;
  if (!target.elevation_m) {
    unknown = usual_height(target);
    if (!target.own) at.elevation_m = at.grid.elevation_m + unknown->above_grid_m;
  }
  estimate_clearness(target, at, out);
  at.k_mean = out.values.k_mean;
  estimate_spread(target, at, out);
  estimate_temperature(target, at, unknown, out);
  for (const std::size_t i :
       {kIndex.k_persistence, kIndex.temp_range_c, kIndex.temp_sd_c, kIndex.temp_persistence,
        kIndex.temp_k_correlation, kIndex.range_k_slope}) {
    estimate(target, at, i, out);
    out.close(i, blend_model(i).more_error);
  }
  out.values.k_year_share = kYearShare * MonthVector::Ones();
  out.variances.k_year_share = kYearShareError * kYearShareError * MonthVector::Ones();
  return out;
}

std::string Blender::what_it_rests_on(const BlendTarget& target) const {
  constexpr double kNear_km = 500.0;
  const auto near = std::count_if(
      target.by_distance.begin(), target.by_distance.end(),
      [&](std::size_t i) { return target.distance_km[i] <= kNear_km && i != target.own; });
  return near > 0 ? fmt::format("a world grid and {} station{} within {:.0f} km", near,
                                near == 1 ? "" : "s", kNear_km)
                  : "a world grid, no station being within 500 km";
}

std::string Blender::licence(const BlendTarget& target) const {
  for (std::size_t n = 0; n < std::min(kNeighbors, target.by_distance.size()); ++n) {
    const PlaceSummary& site = sites_.site(target.by_distance[n]);
    if (!site.licence.empty()) return site.licence;
  }
  return {};
}

}  // namespace dullspell
