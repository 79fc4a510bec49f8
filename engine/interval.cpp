#include "engine/interval.hpp"

#include <cmath>

#include <boost/math/distributions/binomial.hpp>
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

Interval clopper_pearson_interval(std::uint64_t count, std::uint64_t trials,
                                  ConfidenceLevel level) {
  using Binomial = boost::math::binomial_distribution<double>;
  const double n = static_cast<double>(trials);
  const double k = static_cast<double>(count);
  const double tail = 0.5 * (1.0 - level.level);
  return {Binomial::find_lower_bound_on_p(n, k, tail), Binomial::find_upper_bound_on_p(n, k, tail)};
}

Proportion::Proportion(std::uint64_t c, std::uint64_t n) : count(c), trials(n) {
  p = static_cast<double>(c) / static_cast<double>(n);
  interval = c == 0 || c == n ? clopper_pearson_interval(c, n) : wilson_interval(c, n);
}

}  // namespace dullspell
