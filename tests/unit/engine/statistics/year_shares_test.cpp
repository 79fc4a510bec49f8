#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

#include <boost/math/special_functions/beta.hpp>
#include <boost/random/beta_distribution.hpp>
#include <boost/random/binomial_distribution.hpp>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/uniform_int_distribution.hpp>
#include <catch2/catch.hpp>

#include "engine/statistics/year_shares.hpp"

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

/// Whole years drawn with replacement, percentile limits: the bootstrap by its definition.
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

constexpr int kResamples = 20'000;

// Standard error of a 2.5 % quantile from N draws of a normal distribution, in its standard
// deviations: sqrt(q (1 - q) / N) / density (Stuart & Ord, Kendall's Advanced Theory of Statistics,
// from memory); 0.0584 is the normal density at 1.96.
double quantile_error(int draws) {
  return std::sqrt(0.025 * 0.975 / draws) / 0.0584;
}

constexpr double kFree = 1e9;  // no bound on how many periods of one year are independent

// Student's t at 97.5 % (printed tables, from memory), by the number of years less one.
constexpr double kT5 = 2.5706, kT11 = 2.2010;

const Years kSixYears{{3, 15}, {0, 14}, {7, 15}, {15, 15}, {1, 9}, {4, 13}};
const Years kSixAlike{{3, 15}, {0, 15}, {7, 15}, {15, 15}, {1, 15}, {4, 15}};
const Years kTwelveYears{{3, 15}, {0, 15}, {7, 15}, {15, 15}, {1, 15},  {4, 15},
                         {0, 15}, {2, 15}, {0, 15}, {9, 15},  {11, 15}, {0, 15}};

double share_of(const Years& years) {
  double count = 0.0, periods = 0.0;
  for (const YearCount& year : years) {
    count += static_cast<double>(year.count);
    periods += static_cast<double>(year.periods);
  }
  return count / periods;
}

/// Variance of the share by leaving out one year at a time: with years of equal length exactly the
/// linearised one.
double jackknife_variance(const Years& years) {
  const double n = static_cast<double>(years.size());
  double squares = 0.0;
  for (std::size_t left_out = 0; left_out < years.size(); ++left_out) {
    Years others = years;
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(left_out));
    const double apart = share_of(others) - share_of(years);
    squares += apart * apart;
  }
  return (n - 1.0) / n * squares;
}

/// Whether the limits leave 2.5 % of so many trials on either side, by the tails of the binomial.
void check_tails(const Interval& interval, double p, double trials) {
  const double count = p * trials, rest = trials - count;
  CHECK(boost::math::ibeta(count, rest + 1.0, interval.low) == Approx(0.025).epsilon(1e-4));
  CHECK(boost::math::ibeta(count + 1.0, rest, interval.high) == Approx(0.975).epsilon(1e-5));
}

struct Coverage {
  double covered = 0.0, too_low = 0.0, too_high = 0.0;  // shares of the tries; how intervals missed
};

Coverage coverage(int years, double p, double correlation, double most_independent, int tries) {
  Engine engine(5);
  Coverage out;
  for (int i = 0; i < tries; ++i) {
    const auto found =
        share_over_years(clustered_years(engine, years, p, correlation, 15), most_independent);
    out.too_high += p < found.interval.low;
    out.too_low += p > found.interval.high;
  }
  out.too_low /= tries;
  out.too_high /= tries;
  out.covered = 1.0 - out.too_low - out.too_high;
  return out;
}

constexpr int kTries = 1500;

}  // namespace

TEST_CASE("the interval of years is that of the trials which would scatter as the years do") {
  struct Case {
    Years years;
    double t;
  };
  for (const auto& [years, t] : {Case{kSixAlike, kT5}, Case{kTwelveYears, kT11}}) {
    const double p = share_of(years);
    const double correction = 1.95996 / t;
    const double trials = p * (1.0 - p) / jackknife_variance(years) * correction * correction;
    CAPTURE(years.size(), p, trials);
    const YearsShare found = share_over_years(years, kFree);
    CHECK(found.p == Approx(p));
    check_tails(found.interval, p, trials);
  }
}

TEST_CASE("years of unequal length scatter by their counts about the common share") {
  // By hand: p = 30/81; sum of (count - p periods)^2 = 130.809, times 6/5 over 81^2 is 0.0239249;
  // p (1 - p) = 0.233196; (1.95996 / 2.5706)^2 = 0.581334.
  const YearsShare found = share_over_years(kSixYears, kFree);
  CHECK(found.p == Approx(30.0 / 81.0));
  check_tails(found.interval, found.p, 0.233196 / 0.0239249 * 0.581334);
}

TEST_CASE("few years are held wide by Student's t") {
  const double p = share_of(kSixAlike);
  const double trials_by_z = p * (1.0 - p) / jackknife_variance(kSixAlike);
  const double by_z = clopper_pearson_interval(p * trials_by_z, trials_by_z).half_width();
  CHECK(share_over_years(kSixAlike, kFree).interval.half_width() > 1.1 * by_z);
}

TEST_CASE("a year cannot be more trials than it has independent periods") {
  // Four years out of 25 with one period each: as if 375 single periods had been drawn.
  Years scattered(25, {0, 15});
  for (const std::size_t y : {3u, 9u, 14u, 22u}) scattered[y].count = 1;
  const double p = 4.0 / 375.0;
  double last = 0.0;
  for (const double most : {1.0, 2.0, 4.0}) {
    CAPTURE(most);
    const YearsShare found = share_over_years(scattered, most);
    check_tails(found.interval, p, 25.0 * most);
    if (most > 1.0) CHECK(found.interval.high < last);
    last = found.interval.high;
  }
  // Without the bound they would pass for more trials than there were periods.
  CHECK(share_over_years(scattered, kFree).interval.high <
        clopper_pearson_interval(4.0, 375.0).high * 1.05);
  // Years that are all alike scatter by nothing: the bound alone holds them.
  check_tails(share_over_years(Years(10, {5, 15}), 3.0).interval, 1.0 / 3.0, 30.0);
  // Years that scatter by themselves do not come near it.
  CHECK(share_over_years(kTwelveYears, 3.0).interval.low ==
        share_over_years(kTwelveYears, kFree).interval.low);
}

// The exact limits lie about half a trial outside those of a normal distribution, and Student's t
// is a little more than the normal deviate, so they are wider than a bootstrap by some hundredths.
TEST_CASE("near a half the interval is that of resampled whole years, some hundredths wider") {
  Engine engine(17);
  for (const int years : {25, 40}) {
    for (const double correlation : {0.5, 1.0}) {
      const Years drawn = clustered_years(engine, years, 0.5, correlation, 15);
      const PlainBootstrap plain(drawn, kResamples);
      const YearsShare found = share_over_years(drawn, kFree);
      CAPTURE(years, correlation, found.p, found.interval.low, found.interval.high, plain.low,
              plain.high);
      CHECK(std::abs(found.p - 0.5) < 0.15);
      // Years that did it wholly or not at all give shares in steps of one year.
      const double grain = correlation < 1.0 ? 0.0 : 0.5 / years;
      const double error = 4.0 * quantile_error(kResamples) * plain.sd + grain;
      const double half_a_trial =
          0.5 * plain.sd * plain.sd / (found.p * (1.0 - found.p));  // 1 / (2 trials)
      const double wider = half_a_trial + 0.10 * plain.sd;
      CHECK(found.interval.low < plain.low + error);
      CHECK(found.interval.low > plain.low - 2.0 * wider - error);
      CHECK(found.interval.high > plain.high - error);
      CHECK(found.interval.high < plain.high + 2.0 * wider + error);
      CHECK(2.0 * wider < 0.08);
    }
  }
}

// What a nominal 95 % is worth where a year's periods go together. Figures in the comments are of
// 4,000 tries; the bounds lie 4 standard errors of the tries made here about them.

TEST_CASE("where three periods of a year are independent at most, the interval covers its level") {
  double least = 1.0, sum = 0.0;
  for (const double p : {0.35, 0.20, 0.10, 0.05}) {
    for (const int years : {10, 25, 40}) {
      for (const double correlation : {0.5, 1.0}) {
        CAPTURE(p, years, correlation);
        const Coverage found = coverage(years, p, correlation, 3.0, kTries);
        CHECK(found.covered > 0.931);  // 0.953 is the least: p 0.10 of 25 years, 0.05 of 40
        least = std::min(least, found.covered);
        sum += found.covered / 24.0;
      }
    }
  }
  CHECK(least < 0.975);  // and is not so wide for nothing
  CHECK(sum == Approx(0.977).margin(0.004));
}

TEST_CASE("too generous a bound costs coverage of rare outcomes, and they are put too low then") {
  // Correlation 0.5 leaves 15 / (1 + 14 / 2) = 1.9 independent periods in a year, not 5.
  const Coverage usual = coverage(25, 0.35, 0.5, 5.0, kTries);
  const Coverage rare = coverage(25, 0.05, 0.5, 5.0, kTries);
  CHECK(usual.covered > 0.955);  // 0.975
  CHECK(rare.covered == Approx(0.902).margin(4.0 * std::sqrt(0.902 * 0.098 / kTries)));
  CHECK(rare.too_low > 3.0 * rare.too_high);
  CHECK(coverage(25, 0.05, 0.5, 1.0, kTries).covered > 0.99);  // 0.998
}

TEST_CASE("a plain bootstrap of rare outcomes would miss far more often, by being too low") {
  Engine engine(5);
  int missed = 0, resampled_missed = 0;
  constexpr int kRecords = 300;
  for (int i = 0; i < kRecords; ++i) {
    const Years years = clustered_years(engine, 10, 0.10, 0.5, 15);
    missed += share_over_years(years, 3.0).interval.high < 0.10;
    resampled_missed += PlainBootstrap(years, 400).high < 0.10;
  }
  CHECK(missed < 10);
  CHECK(resampled_missed > 40);
}

TEST_CASE("years that all did nothing, or everything, count as one trial each") {
  for (const std::uint64_t n : {1u, 2u, 10u, 25u}) {
    CAPTURE(n);
    // Clopper and Pearson in closed form: 1 - 0.025^(1/n), whatever the number of periods.
    const double most = 1.0 - std::pow(0.025, 1.0 / static_cast<double>(n));
    const auto none = share_over_years(Years(n, {0, 15}), 4.0);
    const auto all = share_over_years(Years(n, {15, 15}), 4.0);
    CHECK(none.p == 0.0);
    CHECK(none.interval.low == 0.0);
    CHECK(none.interval.high == Approx(most).epsilon(1e-9));
    CHECK(all.p == 1.0);
    CHECK(all.interval.low == Approx(1.0 - most).epsilon(1e-9));
    CHECK(all.interval.high == 1.0);
    CHECK(all.years == static_cast<int>(n));
  }
}

TEST_CASE("one year with many periods is one trial, of which a share came true") {
  double last_low = -1.0, last_high = 0.0;
  for (const std::uint64_t count : {0u, 1u, 20u, 45u, 46u, 70u, 90u, 91u}) {
    CAPTURE(count);
    const YearsShare share = share_over_years(Years{{count, 91}}, 20.0);
    CHECK(share.p == Approx(static_cast<double>(count) / 91.0));
    CHECK(share.interval.low <= share.p);
    CHECK(share.interval.high >= share.p);
    CHECK(share.interval.high - share.interval.low >= 0.97);
    CHECK(share.interval.low >= last_low);
    CHECK(share.interval.high >= last_high);
    last_low = share.interval.low;
    last_high = share.interval.high;
    if (count > 1 && count < 90) check_tails(share.interval, share.p, 1.0);
  }
}

TEST_CASE("years without periods are no years, and years with a few weigh by them") {
  const Years years{{0, 0}, {1, 2}, {0, 0}, {3, 15}, {0, 9}};
  const YearsShare share = share_over_years(years, 3.0);
  CHECK(share.years == 3);
  CHECK(share.count == 4);
  CHECK(share.periods == 26);
  CHECK(share.p == Approx(4.0 / 26.0));
  const YearsShare same = share_over_years(Years{{1, 2}, {3, 15}, {0, 9}}, 3.0);
  CHECK(share.interval.low == same.interval.low);
  CHECK(share.interval.high == same.interval.high);
  CHECK(share_over_years(Years{{0, 0}, {0, 15}}, 3.0).interval.high == Approx(0.975));
}

TEST_CASE("intervals hold their share and stay between 0 and 1") {
  Engine engine(11);
  for (int i = 0; i < 60; ++i) {
    const auto years = clustered_years(engine, 2 + i % 30, 0.02 + 0.016 * i, 0.3 + 0.01 * i, 15);
    const YearsShare share = share_over_years(years, 3.0);
    CAPTURE(share.count, share.periods, share.years);
    CHECK(share.interval.low >= 0.0);
    CHECK(share.interval.low <= share.p);
    CHECK(share.interval.high >= share.p);
    CHECK(share.interval.high <= 1.0);
  }
}

TEST_CASE("more years have a narrower interval, more periods of the same years the same") {
  const auto first = share_over_years(kTwelveYears, 3.0);
  Years twice = kTwelveYears;
  twice.insert(twice.end(), kTwelveYears.begin(), kTwelveYears.end());
  CHECK(share_over_years(twice, 3.0).p == first.p);
  CHECK(share_over_years(twice, 3.0).interval.half_width() < 0.85 * first.interval.half_width());
  Years finer = kTwelveYears;
  for (YearCount& year : finer) year = {10 * year.count, 10 * year.periods};
  CHECK(share_over_years(finer, 3.0).interval.low == Approx(first.interval.low));
  CHECK(share_over_years(finer, 3.0).interval.high == Approx(first.interval.high));
}
