#include "engine/statistics/interval.hpp"

#include <algorithm>
#include <cmath>

#include <boost/math/distributions/beta.hpp>
#include <boost/math/distributions/normal.hpp>

namespace dullspell {

double ConfidenceLevel::deviate() const {
  return boost::math::quantile(boost::math::complement(boost::math::normal(), 0.5 * (1.0 - level)));
}

Interval wilson_interval(std::uint64_t count, std::uint64_t trials, ConfidenceLevel level) {
  const double n = static_cast<double>(trials);
  const double p = static_cast<double>(count) / n;
  const double z = level.deviate();
  const double scale = 1.0 / (1.0 + z * z / n);
  const double centre = scale * (p + z * z / (2.0 * n));
  const double half = scale * z * std::sqrt(p * (1.0 - p) / n + z * z / (4.0 * n * n));
  return {std::max(0.0, centre - half), std::min(1.0, centre + half)};
}

Interval clopper_pearson_interval(double count, double trials, ConfidenceLevel level) {
  using Beta = boost::math::beta_distribution<double>;
  const double tail = 0.5 * (1.0 - level.level);
  const double rest = trials - count;
  return {count > 0.0 ? boost::math::quantile(Beta(count, rest + 1.0), tail) : 0.0,
          rest > 0.0 ? boost::math::quantile(boost::math::complement(Beta(count + 1.0, rest), tail))
                     : 1.0};
}

double quantile_of_sorted(std::span<const double> sorted, double p) {
  const double last = static_cast<double>(sorted.size() - 1);
  const double position = std::clamp(p * static_cast<double>(sorted.size()) - 0.5, 0.0, last);
  const auto below = static_cast<std::size_t>(position);
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  const double weight = position - static_cast<double>(below);
  if (std::isinf(sorted[above])) return sorted[weight > 0.0 ? above : below];
  return std::lerp(sorted[below], sorted[above], weight);
}

Proportion::Proportion(std::uint64_t c, std::uint64_t n) : count(c), trials(n) {
  p = static_cast<double>(c) / static_cast<double>(n);
  interval = c == 0 || c == n
                 ? clopper_pearson_interval(static_cast<double>(c), static_cast<double>(n))
                 : wilson_interval(c, n);
}

}  // namespace dullspell
