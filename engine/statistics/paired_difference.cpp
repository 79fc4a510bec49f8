#include "engine/statistics/paired_difference.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

namespace dullspell {
namespace {

// Score statistic of Tango at the difference `d` = P(only second) - P(only first); falls as d
// grows.
double score(double only_first, double only_second, double pairs, double d) {
  // Maximum likelihood estimate of P(only first) under the difference d: the larger root.
  const double a = 2.0 * pairs;
  const double b = -only_first - only_second + (2.0 * pairs - only_second + only_first) * d;
  const double c = -only_first * d * (1.0 - d);
  const double least = std::max(0.0, -d);
  const double p = std::max(least, (std::sqrt(std::max(0.0, b * b - 4.0 * a * c)) - b) / (2.0 * a));
  const double variance = pairs * (2.0 * p + d - d * d);
  const double distance = only_second - only_first - pairs * d;
  if (variance > 0.0) return distance / std::sqrt(variance);
  return distance == 0.0 ? 0.0 : std::copysign(INFINITY, distance);
}

}  // namespace

Interval tango_interval(std::uint64_t only_first, std::uint64_t only_second, std::uint64_t pairs,
                        ConfidenceLevel level) {
  const double first = static_cast<double>(only_first), second = static_cast<double>(only_second);
  const double n = static_cast<double>(pairs), z = level.deviate();
  const double estimate = (second - first) / n;
  const auto root = [&](double inside, double outside, double target) {
    for (int step = 0; step < 60; ++step) {
      const double middle = 0.5 * (inside + outside);
      const bool within = std::abs(score(first, second, n, middle)) < std::abs(target);
      (within ? inside : outside) = middle;
    }
    return inside;
  };
  return {root(estimate, -1.0, z), root(estimate, 1.0, -z)};
}

PairedDifference paired_difference(const std::vector<std::uint64_t>& first,
                                   const std::vector<std::uint64_t>& second, std::uint64_t stays) {
  PairedDifference out;
  for (std::size_t i = 0; i < first.size(); ++i) {
    out.only_first += static_cast<std::uint64_t>(std::popcount(first[i] & ~second[i]));
    out.only_second += static_cast<std::uint64_t>(std::popcount(second[i] & ~first[i]));
  }
  out.difference = (static_cast<double>(out.only_second) - static_cast<double>(out.only_first)) /
                   static_cast<double>(stays);
  out.interval = tango_interval(out.only_first, out.only_second, stays);
  return out;
}

MeanDifference mean_difference(std::span<const double> first, std::span<const double> second,
                               ConfidenceLevel level) {
  const double n = static_cast<double>(first.size());
  double sum = 0.0, squares = 0.0;
  for (std::size_t i = 0; i < first.size(); ++i) sum += second[i] - first[i];
  const double mean = sum / n;
  for (std::size_t i = 0; i < first.size(); ++i) {
    const double d = second[i] - first[i] - mean;
    squares += d * d;
  }
  const double half = level.deviate() * std::sqrt(squares / (n - 1.0) / n);
  return {mean, {mean - half, mean + half}};
}

}  // namespace dullspell
