#include <cmath>

#include <boost/math/special_functions/beta.hpp>
#include <catch2/catch.hpp>

#include "engine/statistics/interval.hpp"

using namespace dullspell;

TEST_CASE("a confidence level knows its normal deviate") {
  CHECK(ConfidenceLevel{}.deviate() == Approx(1.959963985));  // from memory
  CHECK(ConfidenceLevel{0.99}.deviate() == Approx(2.575829304));
  CHECK(ConfidenceLevel{0.6826894921}.deviate() == Approx(1.0));
}

TEST_CASE("a proportion of none or all has the exact interval, others Wilson's") {
  const Proportion none(0, 50), all(50, 50), some(7, 50);
  // Closed form of the exact interval for none: 1 - 0.025^(1/n).
  CHECK(none.p == 0.0);
  CHECK(none.interval.low == 0.0);
  CHECK(none.interval.high == Approx(1.0 - std::pow(0.025, 1.0 / 50.0)));
  CHECK(all.p == 1.0);
  CHECK(all.interval.high == 1.0);
  CHECK(all.interval.low == Approx(std::pow(0.025, 1.0 / 50.0)));
  CHECK(some.p == Approx(0.14));
  CHECK(some.interval.low == wilson_interval(7, 50).low);
  CHECK(some.interval.high == wilson_interval(7, 50).high);
}

TEST_CASE("intervals mirror each other, hold their proportion and narrow with the trials") {
  for (const std::uint64_t n : {1u, 2u, 7u, 100u, 5000u}) {
    for (std::uint64_t k = 0; k <= n; k += 1 + n / 7) {
      CAPTURE(k, n);
      const Proportion p(k, n), q(n - k, n);
      CHECK(p.interval.low == Approx(1.0 - q.interval.high).margin(1e-12));
      CHECK(p.interval.low <= p.p);
      CHECK(p.interval.high >= p.p);
      CHECK(p.interval.low >= 0.0);
      CHECK(p.interval.high <= 1.0);
      CHECK(Proportion(4 * k, 4 * n).interval.half_width() < p.interval.half_width());
      CHECK(wilson_interval(k, n, {0.5}).half_width() < wilson_interval(k, n).half_width());
    }
  }
}

TEST_CASE("the exact interval covers its level at any probability") {
  // Sum of binomial probabilities of the counts whose interval holds p.
  constexpr int n = 20;
  double least = 1.0;
  for (double p = 0.01; p < 1.0; p += 0.01) {
    double covered = 0.0;
    for (int k = 0; k <= n; ++k) {
      const Interval interval = clopper_pearson_interval(k, n);
      if (p < interval.low || p > interval.high) continue;
      covered += std::exp(std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0) +
                          k * std::log(p) + (n - k) * std::log1p(-p));
    }
    least = std::min(least, covered);
  }
  CHECK(least >= 0.95);
  CHECK(least < 0.99);  // and is not absurdly wide
}

TEST_CASE("the exact interval takes counts and trials between the whole ones") {
  const auto of = [](double count) { return clopper_pearson_interval(count, 12.5); };
  // By the tails of the beta distribution, which are those of the binomial at whole numbers.
  const Interval some = of(3.2);
  CHECK(boost::math::ibeta(3.2, 10.3, some.low) == Approx(0.025));
  CHECK(boost::math::ibeta(4.2, 9.3, some.high) == Approx(0.975));
  CHECK(of(3.0).low < some.low);
  CHECK(some.low < of(3.4).low);
  CHECK(of(0.0).low == 0.0);
  CHECK(of(0.0).high == Approx(1.0 - std::pow(0.025, 1.0 / 12.5)));
  CHECK(of(12.5).low == Approx(std::pow(0.025, 1.0 / 12.5)));
  CHECK(of(12.5).high == 1.0);
  CHECK(clopper_pearson_interval(3.0, 12.0).low > of(3.0).low);
}
