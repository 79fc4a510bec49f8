#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "weather/known_sky.hpp"

namespace dullspell {

struct DayLink;

/// The first days of a chain of days (see DaySequence) once some of them are known.
///
/// What is stated of the known days F holds as stated: chi_d is N(m_d, v_d^2), and the errors of
/// several days correlate as the climate's chi on these days do. All else follows its exact
/// distribution given chi_F (Jeffrey's rule): P(all) = Q(chi_F) P(rest | chi_F), the year's draw Y
/// included. With x = (Y, Z) and chi_F = H x under the climate's covariance S of x,
///
///   G = S H' (H S H')^-1,   E x = G m,   Cov x = S - G H S + G V G',   V = diag(v) R diag(v),
///
/// R being the correlation matrix of chi_F. Cov x is a sum of a conditional covariance and of
/// G V G', both positive semidefinite whatever the v >= 0: no statement is impossible. Its
/// lower-triangular root, Y first and then day by day, makes x of fresh normals; with m = 0 and
/// v = 1 that root is the chain itself, so that a plan with a forecast is moved from the one
/// without only as far as the forecast says. Z after the last known day goes on as the chain does.
class KnownDays {
 public:
  /// Days that may be known at most, after the day before the first.
  static constexpr std::size_t kMostDays = 14;

  /// Nothing is known.
  KnownDays() = default;

  /// `links` are those of the days from the first on, `before` that of the day before it. The days
  /// of `known` differ, lie within -1..kMostDays - 1 and within `links`.
  /// Throws std::invalid_argument otherwise.
  KnownDays(const DayLink& before, std::span<const DayLink> links, std::span<const KnownChi> known);

  /// Days whose Z is made here, the first to the last known one; 0 if nothing is known.
  std::size_t days() const { return mean_.empty() ? 0 : mean_.size() - 1; }

  /// Y and a day's Z of fresh normals: the year's, then one a day. Entries up to the day's are
  /// read.
  double year(std::span<const double> fresh) const { return entry(0, fresh); }
  double sky(std::size_t day, std::span<const double> fresh) const { return entry(day + 1, fresh); }

  /// Mean of (Y, Z_0, Z_1, ...) and the lower-triangular map from normals, row by row, on the
  /// common grid.
  const std::vector<double>& mean() const { return mean_; }
  const std::vector<double>& map() const { return map_; }

 private:
  // In a fixed order of adding, so that no instruction set changes the bits.
  double entry(std::size_t row, std::span<const double> fresh) const {
    const double* weights = map_.data() + row * mean_.size();
    double sum = mean_[row];
    for (std::size_t i = 0; i <= row; ++i) sum += weights[i] * fresh[i];
    return sum;
  }

  std::vector<double> mean_, map_;
};

}  // namespace dullspell
