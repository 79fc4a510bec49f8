#pragma once

#include "weather/clearness_distribution.hpp"
#include "weather/normal_function.hpp"

namespace dullspell {

/// Standard normal cumulative distribution.
double standard_normal_cdf(double chi);

/// Standard normal quantile, probability in (0, 1).
double standard_normal_quantile(double probability);

/// Daily clearness K as a function of a standard normal chi: K = F^-1(Phi(chi)), tabulated at equal
/// steps of chi so that no normal distribution is evaluated while stays run. Linear in between and
/// constant beyond |chi| = 6; the error against F^-1 is below 1e-4 where F^-1 is smooth.
class ClearnessTable {
 public:
  static constexpr int kCells = NormalFunction::kCells;
  static constexpr double kLowest = NormalFunction::kLowest;
  static constexpr double kCellsPerUnit = NormalFunction::kCellsPerUnit;
  using Values = NormalFunction::Values;

  ClearnessTable() = default;
  explicit ClearnessTable(const ClearnessDistribution& distribution);

  /// Quantile functions mixed: (1 - weight) a + weight b.
  static ClearnessTable blend(const ClearnessTable& a, const ClearnessTable& b, double weight);

  /// Every K moved to new_centre + stretch (K - centre), within 0..1.
  ClearnessTable moved(double centre, double new_centre, double stretch) const;

  /// The same table with every entry on the common grid.
  ClearnessTable rounded() const;

  double operator()(double chi) const { return k_of_chi_(chi); }

  /// The chi that has this K, within -6..6; the middle of them where the table is level.
  double chi_of(double k) const;

  /// Mean and standard deviation of K when chi is N(0, 1).
  double mean() const;
  double sd() const;

  const Values& values() const { return k_of_chi_.values(); }

 private:
  template <class Change>
  ClearnessTable changed(Change change) const;

  explicit ClearnessTable(const NormalFunction& k_of_chi) : k_of_chi_(k_of_chi) {}

  NormalFunction k_of_chi_;
};

/// Correlation of two days' K whose chi have correlation `chi_correlation`, by the midpoint rule.
double clearness_correlation(const ClearnessTable& today, const ClearnessTable& tomorrow,
                             double chi_correlation);

}  // namespace dullspell
