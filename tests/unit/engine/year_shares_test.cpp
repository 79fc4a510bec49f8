#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

#include <boost/random/beta_distribution.hpp>
#include <boost/random/binomial_distribution.hpp>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/uniform_int_distribution.hpp>
#include <catch2/catch.hpp>

#include "engine/year_shares.hpp"

using namespace dullspell;

namespace {

using Years = std::vector<YearCount>;
using Engine = boost::random::mt19937_64;

/// Years whose own probabilities are beta distributed about `p`: two periods of one year correlate
/// by `correlation`; at 1 a year's periods all do it or none.
Years clustered_years(Engine& engine, int years, double p, double correlation, int periods) {
  Years out;
  for (int y = 0; y < years; ++y) {
    double own = 0.0;
    if (correlation < 1.0) {
      const double weight = 1.0 / correlation - 1.0;
      own = boost::random::beta_distribution<>(p * weight, (1.0 - p) * weight)(engine);
    } else {
      own = boost::random::binomial_distribution<int>(1, p)(engine);
    }
    const int count = boost::random::binomial_distribution<int>(periods, own)(engine);
    out.push_back({static_cast<std::uint64_t>(count), static_cast<std::uint64_t>(periods)});
  }
  return out;
}

/// The bootstrap by its definition, with another engine and many more resamples.
struct PlainBootstrap {
  double low = 0.0, high = 0.0, sd = 0.0;

  PlainBootstrap(const Years& years, int resamples) {
    Engine engine(20'270'521);
    const boost::random::uniform_int_distribution<std::size_t> any(0, years.size() - 1);
    std::vector<double> shares;
    for (int i = 0; i < resamples; ++i) {
      double count = 0.0, periods = 0.0;
      for (std::size_t y = 0; y < years.size(); ++y) {
        const YearCount& year = years[any(engine)];
        count += static_cast<double>(year.count);
        periods += static_cast<double>(year.periods);
      }
      shares.push_back(count / periods);
    }
    std::sort(shares.begin(), shares.end());
    const double n = static_cast<double>(resamples);
    low = shares[static_cast<std::size_t>(0.025 * n)];
    high = shares[static_cast<std::size_t>(0.975 * n)];
    const double mean = std::accumulate(shares.begin(), shares.end(), 0.0) / n;
    for (const double share : shares) sd += (share - mean) * (share - mean);
    sd = std::sqrt(sd / n);
  }
};

constexpr int kResamples = 4000;  // of the code under test
constexpr int kManyResamples = 100'000;

// Standard error of a 2.5 % quantile from N draws of a normal distribution, in its standard
// deviations: sqrt(q (1 - q) / N) / density (Stuart & Ord, Kendall's Advanced Theory of Statistics,
// from memory); 0.0584 is the normal density at 1.96.
double quantile_error(int draws) {
  return std::sqrt(0.025 * 0.975 / draws) / 0.0584;
}

const Years kSixYears{{3, 15}, {0, 14}, {7, 15}, {15, 15}, {1, 9}, {4, 13}};
const Years kTwelveYears{{3, 15}, {0, 14}, {7, 15}, {15, 15}, {1, 9},   {4, 13},
                         {0, 15}, {2, 15}, {0, 15}, {9, 15},  {11, 12}, {0, 15}};

struct Coverage {
  double covered = 0.0, below = 0.0, above = 0.0;  // shares of the tries; where the truth lay
};

Coverage coverage(int years, double p, double correlation, int tries, unsigned seed) {
  Engine engine(seed);
  Coverage out;
  for (int i = 0; i < tries; ++i) {
    const auto found = share_over_years(clustered_years(engine, years, p, correlation, 15));
    out.below += p < found.interval.low;
    out.above += p > found.interval.high;
  }
  out.below /= tries;
  out.above /= tries;
  out.covered = 1.0 - out.below - out.above;
  return out;
}

}  // namespace

TEST_CASE("the interval of years is that of a bootstrap with another engine, widened") {
  const double error = std::hypot(quantile_error(kResamples), quantile_error(kManyResamples));
  for (const Years& years : {kSixYears, kTwelveYears}) {
    const double n = static_cast<double>(years.size());
    const double wider = std::sqrt(n / (n - 1.0));
    const PlainBootstrap plain(years, kManyResamples);
    const YearsShare found = share_over_years(years);
    CAPTURE(n, found.p, found.interval.low, found.interval.high, plain.low, plain.high, plain.sd);
    const double margin = 4.0 * error * wider * plain.sd;
    CHECK(found.interval.low ==
          Approx(std::max(0.0, found.p + wider * (plain.low - found.p))).margin(margin));
    CHECK(found.interval.high == Approx(found.p + wider * (plain.high - found.p)).margin(margin));
  }
}

TEST_CASE("six years would show if the deviations were not widened") {
  const PlainBootstrap plain(kSixYears, kManyResamples);
  const double half_width = share_over_years(kSixYears).interval.half_width();
  const double ratio = half_width / (0.5 * (plain.high - plain.low));
  // Of a half-width, by two quantiles that err on their own.
  const double error = std::hypot(quantile_error(kResamples), quantile_error(kManyResamples)) /
                       1.96 / std::sqrt(2.0);
  CHECK(ratio == Approx(std::sqrt(6.0 / 5.0)).margin(4.0 * error));
  CHECK(4.0 * error < std::sqrt(6.0 / 5.0) - 1.0);
}

// What a nominal 95 % is worth where a year's periods go together. Shares in the comments are of
// 2,000 tries; the bounds lie 4 standard errors of the tries made here about them.

TEST_CASE("where a third is flat, 25 or 40 years cover the truth in 93 to 97 of 100 records") {
  double covered = 0.0;
  for (const int years : {25, 40}) {
    for (const double correlation : {0.5, 1.0}) {
      CAPTURE(years, correlation);
      const Coverage found = coverage(years, 0.35, correlation, 400, 5);
      CHECK(found.covered > 0.90);
      CHECK(found.covered < 0.99);
      covered += found.covered / 4.0;
    }
  }
  CHECK(covered > 0.93);  // 0.950
  CHECK(covered < 0.97);
}

TEST_CASE("where a third is flat, ten years cover the truth in 86 to 94 of 100 records") {
  const double covered =
      0.5 * (coverage(10, 0.35, 0.5, 400, 5).covered + coverage(10, 0.35, 1.0, 400, 5).covered);
  CHECK(covered > 0.86);  // 0.90
  CHECK(covered < 0.94);
}

TEST_CASE("where a tenth is flat the interval covers less, and misses by being too low") {
  const Coverage ten = coverage(10, 0.10, 0.5, 400, 5), more = coverage(25, 0.10, 0.5, 400, 5);
  CHECK(ten.covered > 0.72);  // 0.80
  CHECK(ten.covered < 0.88);
  CHECK(more.covered > 0.83);  // 0.89
  CHECK(more.covered < 0.95);
  CHECK(ten.above > 3.0 * ten.below);
  CHECK(more.above > 3.0 * more.below);
}

TEST_CASE("years that all did nothing, or everything, count as one trial each") {
  for (const std::uint64_t n : {2u, 10u, 25u}) {
    CAPTURE(n);
    // Clopper and Pearson in closed form: 1 - 0.025^(1/n), whatever the number of periods.
    const double most = 1.0 - std::pow(0.025, 1.0 / static_cast<double>(n));
    const auto none = share_over_years(Years(n, {0, 15})),
               all = share_over_years(Years(n, {15, 15}));
    CHECK(none.p == 0.0);
    CHECK(none.interval.low == 0.0);
    CHECK(none.interval.high == Approx(most).epsilon(1e-9));
    CHECK(all.p == 1.0);
    CHECK(all.interval.low == Approx(1.0 - most).epsilon(1e-9));
    CHECK(all.interval.high == 1.0);
    CHECK(all.years == static_cast<int>(n));
  }
}

TEST_CASE("one year with many periods is one trial of what most of them did") {
  const auto half = [](std::uint64_t count) { return share_over_years(Years{{count, 91}}); };
  CHECK(half(0).interval.high == Approx(0.975));
  CHECK(half(91).interval.low == Approx(0.025));
  for (const std::uint64_t count : {0u, 1u, 20u, 45u, 46u, 70u, 90u, 91u}) {
    CAPTURE(count);
    const YearsShare share = half(count);
    CHECK(share.p == Approx(static_cast<double>(count) / 91.0));
    CHECK(share.interval.low == Approx(count < 46 ? 0.0 : 0.025));
    CHECK(share.interval.high == Approx(count < 46 ? 0.975 : 1.0));
    CHECK(share.interval.low <= share.p);
    CHECK(share.interval.high >= share.p);
  }
}

TEST_CASE("years without periods are no years, and years with a few weigh by them") {
  const Years years{{0, 0}, {1, 2}, {0, 0}, {3, 15}, {0, 9}};
  const YearsShare share = share_over_years(years);
  CHECK(share.years == 3);
  CHECK(share.count == 4);
  CHECK(share.periods == 26);
  CHECK(share.p == Approx(4.0 / 26.0));
  const YearsShare same = share_over_years(Years{{1, 2}, {3, 15}, {0, 9}});
  CHECK(share.interval.low == same.interval.low);
  CHECK(share.interval.high == same.interval.high);
  CHECK(share_over_years(Years{{0, 0}, {0, 15}}).interval.high == Approx(0.975));
}

TEST_CASE("intervals hold their share and stay between 0 and 1") {
  Engine engine(11);
  for (int i = 0; i < 60; ++i) {
    const auto years = clustered_years(engine, 2 + i % 30, 0.02 + 0.016 * i, 0.3 + 0.01 * i, 15);
    const YearsShare share = share_over_years(years);
    CAPTURE(share.count, share.periods, share.years);
    CHECK(share.interval.low >= 0.0);
    CHECK(share.interval.low <= share.p);
    CHECK(share.interval.high >= share.p);
    CHECK(share.interval.high <= 1.0);
  }
}

TEST_CASE("the same counts have the same interval, and fewer years a wider one") {
  const auto first = share_over_years(kTwelveYears), again = share_over_years(kTwelveYears);
  CHECK(first.interval.low == again.interval.low);
  CHECK(first.interval.high == again.interval.high);
  Years twice = kTwelveYears;
  twice.insert(twice.end(), kTwelveYears.begin(), kTwelveYears.end());
  CHECK(share_over_years(twice).p == first.p);
  CHECK(share_over_years(twice).interval.half_width() < 0.85 * first.interval.half_width());
  // More periods of the same years tell nothing new.
  Years finer = kTwelveYears;
  for (YearCount& year : finer) year = {10 * year.count, 10 * year.periods};
  CHECK(share_over_years(finer).interval.low == first.interval.low);
  CHECK(share_over_years(finer).interval.high == first.interval.high);
}
