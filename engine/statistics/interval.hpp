#pragma once

#include <cstdint>
#include <span>

namespace dullspell {

/// Two-sided confidence level, 0..1; a type of its own so that 0.95 cannot pass for a z-score.
struct ConfidenceLevel {
  double level = 0.95;

  /// Standard normal deviate that leaves (1 - level) / 2 above it.
  double deviate() const;
};

struct Interval {
  double low;
  double high;

  double half_width() const { return 0.5 * (high - low); }
};

/// Score interval of a proportion: Wilson 1927, J. Am. Stat. Assoc. 22:209. Covers its level on
/// average; a little less than it for proportions next to 0 or 1. `trials` > 0.
Interval wilson_interval(std::uint64_t count, std::uint64_t trials, ConfidenceLevel level = {});

/// Exact interval by beta quantiles: Clopper & Pearson 1934, Biometrika 26:404. Never covers less
/// than its level; wider than Wilson's. `trials` > 0.
/// Neither need be whole: `trials` > 0, `count` 0..trials.
Interval clopper_pearson_interval(double count, double trials, ConfidenceLevel level = {});

/// Quantile of values in order at plotting positions (i - 1/2) / n, linear in between; not empty.
double quantile_of_sorted(std::span<const double> sorted, double p);

/// Share of stays with its 95 % interval: Wilson, or Clopper–Pearson where the count is none or
/// all, since there Wilson covers too little.
struct Proportion {
  std::uint64_t count = 0;
  std::uint64_t trials = 0;
  double p = 0.0;
  Interval interval{0.0, 1.0};

  Proportion() = default;
  Proportion(std::uint64_t count, std::uint64_t trials);
};

}  // namespace dullspell
