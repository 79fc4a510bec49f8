#pragma once

#include <array>
#include <span>
#include <vector>

#include <Eigen/Core>

#include "weather/input/source_text.hpp"
#include "weather/random_stream.hpp"

namespace dullspell::calibration {

constexpr int kClasses = 10;

using ClassVector = Eigen::Matrix<double, kClasses, 1>;
using ClassMatrix = Eigen::Matrix<double, kClasses, kClasses>;

/// Daily clearness of months of one class of mean clearness: a chain over ten equal classes of K,
/// uniform within a class.
class MarkovMonth {
 public:
  /// `step(i, j)` is the probability of class j on the day after class i; rows are normalised.
  MarkovMonth(const ClassMatrix& step, double k_min, double k_max);

  const ClassVector& stationary() const { return stationary_; }
  double mean() const;
  double sd() const;
  double lag1() const;

  /// Draws successive days; the first from the stationary distribution.
  void draw(RandomStream& stream, std::span<double> k) const;

 private:
  ClassVector centres() const;

  ClassMatrix step_;
  ClassMatrix cumulative_;
  ClassVector stationary_, cumulative_stationary_;
  double k_min_, width_;
};

/// The library of Aguiar, Collares-Pereira & Conde 1988, Solar Energy 40:269.
class MarkovLibrary {
 public:
  /// Reads a table with the columns matrix, ktm_upper, kt_min, kt_max, row, p1 .. p10.
  explicit MarkovLibrary(const SourceText& table);

  /// Months in the order of their mean clearness.
  const std::vector<MarkovMonth>& months() const { return months_; }

  /// The one for a mean clearness.
  const MarkovMonth& month_of(double k_mean) const;

  /// Draws days of a month with that mean: a matrix has the mean of its class, so its days are
  /// multiplied by k_mean over the matrix's own mean.
  void draw(double k_mean, RandomStream& stream, std::span<double> k) const;

 private:
  std::vector<MarkovMonth> months_;
  std::vector<double> upper_means_;
};

}  // namespace dullspell::calibration
