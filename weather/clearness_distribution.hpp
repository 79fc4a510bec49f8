#pragma once

#include <array>
#include <variant>

namespace dullspell {

/// Greatest daily clearness index in a month of mean `k_mean`: Hollands & Huget 1983, Solar Energy
/// 30:195, doi:10.1016/0038-092X(83)90149-4; the mean is clipped to 0.20..0.80.
double largest_clearness(double k_mean);

/// Probabilities of the quantiles that a place may state.
constexpr std::array<double, 9> kQuantileProbabilities{0.0,  0.05, 0.10, 0.25, 0.50,
                                                       0.75, 0.90, 0.95, 1.0};

/// Daily clearness with stated quantiles, uniform between them.
class QuantileClearness {
 public:
  explicit QuantileClearness(const std::array<double, 9>& quantiles) : quantiles_(quantiles) {}

  double quantile(double probability) const;
  double mean() const;
  double sd() const;

 private:
  std::array<double, 9> quantiles_;
};

/// Daily clearness with stated mean and standard deviation: a beta distribution over
/// 0..max(largest_clearness(mean), mean + 1.5 sd), at most 0..1.
class BetaClearness {
 public:
  /// Needs sd < largest_sd(mean, sd); throws std::invalid_argument otherwise.
  BetaClearness(double mean, double sd);

  /// Greatest standard deviation for which the distribution exists: sd^2 < 0.98 mean (top - mean),
  /// with the top that belongs to `sd`.
  static double largest_sd(double mean, double sd);

  double quantile(double probability) const;
  double mean() const { return mean_; }
  double sd() const { return sd_; }

 private:
  double mean_, sd_, top_, alpha_, beta_;
};

/// Daily clearness when only the mean is known: density C (1 - K/Kmax) exp(lambda K) on 0..Kmax,
/// Hollands & Huget 1983. lambda is solved for, so the mean is exact. Mean 0.02..0.98 Kmax.
class HollandsHugetClearness {
 public:
  explicit HollandsHugetClearness(double mean);

  double quantile(double probability) const;
  double mean() const { return mean_; }
  double sd() const;

  double k_max() const { return k_max_; }
  double lambda() const { return steepness_ / k_max_; }

 private:
  double mean_, k_max_;
  double steepness_;  // lambda Kmax
};

using ClearnessDistribution =
    std::variant<QuantileClearness, BetaClearness, HollandsHugetClearness>;

double quantile(const ClearnessDistribution& distribution, double probability);
double mean(const ClearnessDistribution& distribution);
double sd(const ClearnessDistribution& distribution);

}  // namespace dullspell
