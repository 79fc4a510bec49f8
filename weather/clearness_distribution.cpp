#include "weather/clearness_distribution.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include <boost/math/distributions/beta.hpp>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <boost/math/tools/roots.hpp>

namespace dullspell {
namespace {

template <class F>
double solve(F f, double low, double high) {
  std::uintmax_t steps = 200;
  const auto bracket = boost::math::tools::toms748_solve(
      f, low, high, boost::math::tools::eps_tolerance<double>(48), steps);
  return 0.5 * (bracket.first + bracket.second);
}

// Moment of order n of the ramp density over s = K / Kmax in 0..1, unnormalised; the exponential is
// scaled by its largest value so that steep ramps do not overflow.
double ramp_moment(double steepness, int order) {
  const double top = std::max(0.0, steepness);
  const auto density = [=](double s) {
    return std::pow(s, order) * (1.0 - s) * std::exp(steepness * s - top);
  };
  return boost::math::quadrature::gauss_kronrod<double, 61>::integrate(density, 0.0, 1.0, 10,
                                                                       1e-12);
}

double ramp_mean(double steepness) {
  return ramp_moment(steepness, 1) / ramp_moment(steepness, 0);
}

// Cumulative distribution of s; the two branches are one formula, scaled against overflow.
double ramp_cdf(double x, double s) {
  if (std::abs(x) < 1e-4) return s * (2.0 - s);
  if (x > 0.0) {
    const double floor = (1.0 + x) * std::exp(-x);
    return (std::exp(x * (s - 1.0)) * (x * (1.0 - s) + 1.0) - floor) / (1.0 - floor);
  }
  return (std::exp(x * s) * (x - x * s + 1.0) - x - 1.0) / (std::exp(x) - 1.0 - x);
}

double beta_top(double mean, double sd) {
  return std::min(1.0, std::max(largest_clearness(mean), mean + 1.5 * sd));
}

}  // namespace

double largest_clearness(double k_mean) {
  const double k = std::clamp(k_mean, 0.20, 0.80);
  return 0.6313 + 0.267 * k - 11.9 * std::pow(k - 0.75, 8);
}

double QuantileClearness::quantile(double p) const {
  const auto& at = kQuantileProbabilities;
  const auto above = std::upper_bound(at.begin() + 1, at.end() - 1, p);
  const auto i = static_cast<std::size_t>(above - at.begin());
  const double weight = std::clamp((p - at[i - 1]) / (at[i] - at[i - 1]), 0.0, 1.0);
  return quantiles_[i - 1] + weight * (quantiles_[i] - quantiles_[i - 1]);
}

double QuantileClearness::mean() const {
  double sum = 0.0;
  for (std::size_t i = 1; i < quantiles_.size(); ++i) {
    const double share = kQuantileProbabilities[i] - kQuantileProbabilities[i - 1];
    sum += share * 0.5 * (quantiles_[i - 1] + quantiles_[i]);
  }
  return sum;
}

double QuantileClearness::sd() const {
  double square = 0.0;
  for (std::size_t i = 1; i < quantiles_.size(); ++i) {
    const double share = kQuantileProbabilities[i] - kQuantileProbabilities[i - 1];
    const double a = quantiles_[i - 1], b = quantiles_[i];
    square += share * (a * a + a * b + b * b) / 3.0;
  }
  return std::sqrt(std::max(0.0, square - mean() * mean()));
}

double BetaClearness::largest_sd(double mean, double sd) {
  const double top = beta_top(mean, sd);
  return std::sqrt(std::max(0.0, 0.98 * mean * (top - mean)));
}

BetaClearness::BetaClearness(double mean, double sd)
    : mean_(mean), sd_(sd), top_(beta_top(mean, sd)) {
  if (!(sd > 0.0) || !(sd < largest_sd(mean, sd))) {
    throw std::invalid_argument("no beta distribution has this mean and standard deviation");
  }
  const double m = mean / top_;
  const double concentration = m * (1.0 - m) / ((sd / top_) * (sd / top_)) - 1.0;
  alpha_ = m * concentration;
  beta_ = (1.0 - m) * concentration;
}

double BetaClearness::quantile(double p) const {
  if (p <= 0.0) return 0.0;
  if (p >= 1.0) return top_;
  // Long double would take five times as long for digits that no table keeps.
  using Policy = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
  return top_ *
         boost::math::quantile(boost::math::beta_distribution<double, Policy>(alpha_, beta_), p);
}

HollandsHugetClearness::HollandsHugetClearness(double mean)
    : mean_(mean), k_max_(largest_clearness(mean)) {
  const double target = mean / k_max_;
  if (!(target >= 0.02 && target <= 0.98)) {
    throw std::invalid_argument("mean clearness outside what the distribution can have");
  }
  steepness_ = solve([=](double x) { return ramp_mean(x) - target; }, -120.0, 250.0);
}

double HollandsHugetClearness::quantile(double p) const {
  if (p <= 0.0) return 0.0;
  if (p >= 1.0) return k_max_;
  return k_max_ * solve([&](double s) { return ramp_cdf(steepness_, s) - p; }, 0.0, 1.0);
}

double HollandsHugetClearness::sd() const {
  const double weight = ramp_moment(steepness_, 0);
  const double m = ramp_moment(steepness_, 1) / weight;
  return k_max_ * std::sqrt(ramp_moment(steepness_, 2) / weight - m * m);
}

double quantile(const ClearnessDistribution& distribution, double probability) {
  return std::visit([=](const auto& d) { return d.quantile(probability); }, distribution);
}

double mean(const ClearnessDistribution& distribution) {
  return std::visit([](const auto& d) { return d.mean(); }, distribution);
}

double sd(const ClearnessDistribution& distribution) {
  return std::visit([](const auto& d) { return d.sd(); }, distribution);
}

}  // namespace dullspell
