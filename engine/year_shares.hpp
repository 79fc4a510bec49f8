#pragma once

#include <cstdint>
#include <span>

#include "engine/interval.hpp"

namespace dullspell {

/// How many periods of one year did something.
struct YearCount {
  std::uint64_t count = 0;
  std::uint64_t periods = 0;
};

/// Share of all periods with its 95 % interval. Periods of one year overlap and share its weather,
/// so whole years are resampled with replacement (bootstrap: Efron 1979, Annals of Statistics 7:1),
/// the deviations widened by sqrt(n / (n - 1)). Where no year, or every one, did it in full the
/// interval is that of Clopper and Pearson with a trial a year; a single year is one trial of what
/// most of its periods did. Covers some 95 % with 25 years or more and a share near a third, some
/// 90 % with ten years; where fewer than five years did it, less, by being too low (and, mirrored,
/// where fewer than five did not).
struct YearsShare {
  double p = 0.0;
  Interval interval{0.0, 1.0};
  std::uint64_t count = 0;
  std::uint64_t periods = 0;
  int years = 0;
};

/// Needs at least one period. A pure function of the counts.
YearsShare share_over_years(std::span<const YearCount> years);

}  // namespace dullspell
