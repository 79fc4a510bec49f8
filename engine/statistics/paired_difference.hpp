#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "engine/statistics/interval.hpp"

namespace dullspell {

/// Difference of two shares of the very same stays, with its 95 % interval. Only stays that came
/// out differently say anything about it, so it is far narrower than that of independent runs.
struct PairedDifference {
  double difference = 0.0;  ///< second minus first
  Interval interval{-1.0, 1.0};
  std::uint64_t only_first = 0;   ///< stays that ran flat under the first plan alone
  std::uint64_t only_second = 0;  ///< ... under the second alone

  /// The interval leaves out zero.
  bool is_clear() const { return interval.low > 0.0 || interval.high < 0.0; }
};

/// Of flat stays, a bit each (StayOutcomes); both of `stays` > 0.
PairedDifference paired_difference(const std::vector<std::uint64_t>& first,
                                   const std::vector<std::uint64_t>& second, std::uint64_t stays);

/// Score interval of the difference of paired proportions: Tango 1998, Statistics in Medicine
/// 17:891, by bisection. `only_first` + `only_second` <= `pairs`, `pairs` > 0.
Interval tango_interval(std::uint64_t only_first, std::uint64_t only_second, std::uint64_t pairs,
                        ConfidenceLevel level = {});

/// Mean of the differences of paired values, second minus first, with its normal interval.
struct MeanDifference {
  double difference = 0.0;
  Interval interval{0.0, 0.0};

  /// The interval leaves out zero.
  bool is_clear() const { return interval.low > 0.0 || interval.high < 0.0; }
};

/// Both spans of the same length, at least 2.
MeanDifference mean_difference(std::span<const double> first, std::span<const double> second,
                               ConfidenceLevel level = {});

}  // namespace dullspell
