#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <vector>

#include "engine/statistics/interval.hpp"

namespace dullspell {

/// Sizes that are tried, from `low` to `high`, whole numbers both: each the whole part of 0.1 %
/// more than the one before, and at least one unit more.
std::vector<double> sizes_to_try(double low, double high);

/// Flat stays among so many that a size may have.
struct FlatTarget {
  std::uint64_t allowed = 0;  ///< the accepted share of them
  /// Flat stays at the true answer lie between these in 95 samples of 100, or more: the least size
  /// with at most `most` is the lower end of the answer's interval, that with at most `fewest` the
  /// upper one, which no sample of this number has where `fewest` is absent.
  std::uint64_t most = 0;
  std::optional<std::uint64_t> fewest;
};

/// Each stay has a least size of its own; the answer is a quantile of those, and this interval the
/// usual one of a quantile by order statistics, free of any distribution (David & Nagaraja 2003,
/// Order Statistics, section 7.1, from memory). `accept_risk` 0..1, `stays` > 0.
FlatTarget flat_target(double accept_risk, std::uint64_t stays);

/// Looks for the least of some sizes at which few enough stays run flat, and keeps what it counted.
///
/// Guaranteed for any count: a size that is found has at most `allowed` flat stays, and the next
/// smaller one to try has more (or there is none). It is the least of all sizes to try where the
/// count never grows with the size: so it is for a battery that begins full, without
/// self-discharge, limits that bind and loads that are given up by charge. Those can make a
/// somewhat larger battery fail where a smaller one lasts; then a smaller size may do as well, and
/// the size that is found still does.
class SizeSearch {
 public:
  using FlatCount = std::function<std::uint64_t(double size)>;

  /// `sizes` in order, not empty; `count` is asked once for each size at most.
  SizeSearch(std::vector<double> sizes, FlatCount count);

  /// The number of the size among those to try; none if the largest has too many flat stays (unless
  /// a smaller one with few enough was met). Begins at `near` and goes on from what is known.
  std::optional<std::size_t> least(std::uint64_t allowed, std::size_t near, std::size_t step);

  /// The number of the size from which on all that were tried have few enough flat stays, those
  /// some way above it among them; begins at what least() found. None if the largest has too many.
  std::optional<std::size_t> lasting(std::uint64_t allowed, std::size_t found);

  std::uint64_t count_at(std::size_t index);

  double size(std::size_t index) const { return sizes_[index]; }
  std::size_t last() const { return sizes_.size() - 1; }
  /// Of the largest size to try that is not above `size`; the first if all are.
  std::size_t index_of(double size) const;

  /// Flat stays by number of size.
  const std::map<std::size_t, std::uint64_t>& counts() const { return counts_; }

 private:
  std::vector<double> sizes_;
  FlatCount count_;
  std::map<std::size_t, std::uint64_t> counts_;
};

}  // namespace dullspell
