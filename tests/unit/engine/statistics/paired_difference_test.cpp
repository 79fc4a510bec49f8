#include <cmath>
#include <random>

#include <catch2/catch.hpp>

#include "engine/statistics/paired_difference.hpp"

using namespace dullspell;

TEST_CASE("the interval of paired shares is where the score reaches the normal deviate") {
  // The statistic is worked out from the likelihood itself, not from its solved equation.
  const double z = ConfidenceLevel{}.deviate();
  for (const auto& [b, c, n] : {std::array{1, 9, 44}, std::array{0, 5, 30}, std::array{3, 3, 20},
                                std::array{40, 12, 1000}, std::array{0, 1, 20'000}}) {
    const Interval found =
        tango_interval(static_cast<std::uint64_t>(b), static_cast<std::uint64_t>(c),
                       static_cast<std::uint64_t>(n));
    CAPTURE(b, c, n, found.low, found.high);
    for (const double d : {found.low, found.high}) {
      // The likelihood of (b, c, n - b - c) under p21 = p, p12 = p + d, maximised by search.
      const auto likelihood = [d, b = b, c = c, n = n](double p) {
        return b * std::log(p) + c * std::log(p + d) + (n - b - c) * std::log1p(-2.0 * p - d);
      };
      // It has one maximum: thirds that cannot hold it are cut away.
      double low = std::max(0.0, -d), high = 0.5 * (1.0 - d);
      for (int step = 0; step < 200; ++step) {
        const double third = (high - low) / 3.0;
        if (likelihood(low + third) < likelihood(high - third)) {
          low += third;
        } else {
          high -= third;
        }
      }
      const double p_best = 0.5 * (low + high);
      const double statistic = (c - b - n * d) / std::sqrt(n * (2.0 * p_best + d - d * d));
      CHECK(std::abs(statistic) == Approx(z).epsilon(1e-4));
    }
    CHECK(found.low < double(c - b) / n);
    CHECK(found.high > double(c - b) / n);
  }
}

TEST_CASE("intervals of paired shares cover the true difference as often as they say") {
  std::mt19937_64 random(5);
  for (const auto& [p, q, n] : {std::tuple{0.02, 0.05, 400}, std::tuple{0.001, 0.004, 2000},
                                std::tuple{0.2, 0.1, 100}, std::tuple{0.005, 0.005, 1000}}) {
    int covered = 0;
    constexpr int kTimes = 4'000;
    for (int time = 0; time < kTimes; ++time) {
      const auto b = std::binomial_distribution<int>(n, p)(random);
      const auto c = std::binomial_distribution<int>(n - b, q / (1.0 - p))(random);
      const Interval found =
          tango_interval(static_cast<std::uint64_t>(b), static_cast<std::uint64_t>(c),
                         static_cast<std::uint64_t>(n));
      covered += found.low <= q - p && q - p <= found.high;
    }
    CAPTURE(p, q, n);
    CHECK(covered / double(kTimes) > 0.94);
    CHECK(covered / double(kTimes) < 0.975);
  }
}

TEST_CASE("paired shares are counted stay by stay") {
  const std::vector<std::uint64_t> first{0b1110, 1}, second{0b0111, 0};
  const PairedDifference found = paired_difference(first, second, 100);
  CHECK(found.only_first == 2);
  CHECK(found.only_second == 1);
  CHECK(found.difference == Approx(-0.01));
  CHECK_FALSE(found.is_clear());
}

TEST_CASE("a mean of differences has the normal interval of the differences") {
  const std::vector<double> first{1.0, 2.0, 3.0, 4.0}, second{2.0, 2.0, 5.0, 5.0};
  const MeanDifference found = mean_difference(first, second);
  CHECK(found.difference == Approx(1.0));
  // Differences 1, 0, 2, 1: standard deviation sqrt(2/3), of the mean half of that.
  CHECK(found.interval.high - 1.0 == Approx(1.959964 * 0.5 * std::sqrt(2.0 / 3.0)));
}
