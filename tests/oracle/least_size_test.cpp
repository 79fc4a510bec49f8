#include <algorithm>
#include <cmath>
#include <vector>

#include <Eigen/Dense>
#include <boost/math/distributions/binomial.hpp>
#include <catch2/catch.hpp>

#include "engine/decisions/least_size.hpp"
#include "engine/decisions/size_search.hpp"
#include "engine/study/prepare.hpp"
#include "tests/support/drawdown.hpp"
#include "tests/support/engine_oracle.hpp"
#include "tests/support/engine_plan.hpp"

namespace dullspell::least_size_test {

// Least sizes whose exact value is known by other means: from each stay's greatest drawdown, and
// from a Markov chain of weather and stored energy, solved as a matrix.

namespace {

// A day's load takes kLoad units; each day is dull or sunny and brings a number of units, all those
// of its kind as likely as each other.
constexpr double kUnit_wh = 20.0;
constexpr int kLoad = 50, kDays = 20;
constexpr int kDullMost = 40, kSunnyLeast = 45, kSunnyMost = 125;
constexpr double kDullAtFirst = 0.35, kDullAfterDull = 0.55, kDullAfterSunny = 0.25;

// Chance that a battery of so many units, full at first, runs flat.
double exact_risk(int capacity) {
  const int levels = capacity + 1;
  Eigen::MatrixXd step = Eigen::MatrixXd::Zero(2 * levels, 2 * levels);
  const auto add_day = [&](Eigen::Index from, int level, int sunny, double p) {
    const int least = sunny ? kSunnyLeast : 0, most = sunny ? kSunnyMost : kDullMost;
    for (int units = least; units <= most; ++units) {
      const int left = std::min(capacity, level + units) - kLoad;
      if (left >= 0) step(sunny * levels + left, from) += p / (most - least + 1);
    }
  };
  for (int before = 0; before < 2; ++before) {
    for (int level = 0; level < levels; ++level) {
      const double dull = before ? kDullAfterSunny : kDullAfterDull;
      add_day(before * levels + level, level, 0, dull);
      add_day(before * levels + level, level, 1, 1.0 - dull);
    }
  }
  // A day before the first whose kind gives the first day's chances.
  const double sunny_before = (kDullAfterDull - kDullAtFirst) / (kDullAfterDull - kDullAfterSunny);
  Eigen::VectorXd alive = Eigen::VectorXd::Zero(2 * levels);
  alive[levels - 1] = 1.0 - sunny_before;
  alive[2 * levels - 1] = sunny_before;
  for (int day = 0; day < kDays; ++day) alive = step * alive;
  return 1.0 - alive.sum();
}

// The least whole number of units with no more than the risk.
int exact_least(double accept_risk) {
  int low = kLoad, high = 10 * kLoad;
  while (high - low > 1) {
    const int middle = (low + high) / 2;
    (exact_risk(middle) <= accept_risk ? high : low) = middle;
  }
  return high;
}

PreparedPlan storage_plan() {
  PreparedPlan plan = bare_plan(kDays, {12, 20}, 2.0 * kLoad * kUnit_wh);
  set_panels(plan, 12, kSunnyMost * kUnit_wh);
  set_load(plan, 20, kLoad * kUnit_wh);
  return plan;
}

ScriptedSky storage_sky(std::uint64_t seed) {
  return ScriptedSky([seed](std::uint32_t stay, std::span<SegmentSky> out) {
    double p_dull = kDullAtFirst;
    for (std::size_t d = 0; d < out.size(); ++d) {
      const auto day = static_cast<std::uint32_t>(d);
      const bool dull = test_uniform(seed, stay, 2 * day) < p_dull;
      const int least = dull ? 0 : kSunnyLeast, most = dull ? kDullMost : kSunnyMost;
      const double share = test_uniform(seed, stay, 2 * day + 1);
      const int units = least + static_cast<int>(share * (most - least + 1));
      out[d] = mild_day(static_cast<double>(units) / kSunnyMost);
      p_dull = dull ? kDullAfterDull : kDullAfterSunny;
    }
  });
}

constexpr std::uint64_t kStays = 400;
constexpr int kSeeds = 400;

// The same weather, drawn once for all sizes.
ScriptedSky kept(const ScriptedSky& sky) {
  std::vector<std::vector<SegmentSky>> stays((kStays + 63) / 64 * 64,
                                             std::vector<SegmentSky>(kDays));
  for (std::uint32_t stay = 0; stay < stays.size(); ++stay) sky.fill(stay, stays[stay]);
  return ScriptedSky([stays](std::uint32_t stay, std::span<SegmentSky> out) {
    std::copy(stays[stay].begin(), stays[stay].end(), out.begin());
  });
}

// Seeds whose interval holds the exact answer.
int covering(double accept_risk, double exact_wh, int seeds) {
  const SizedPlans plans(storage_plan());
  const auto sizes = sizes_to_try(kLeastBattery_wh, kMostBattery_wh);
  const double expected = *std::lower_bound(sizes.begin(), sizes.end(), exact_wh);
  int count = 0;
  for (int seed = 1; seed <= seeds; ++seed) {
    const LeastSize found = least_size(plans, kept(storage_sky(static_cast<std::uint64_t>(seed))),
                                       {SizeOf::battery, accept_risk, false}, {kStays, 1, 1});
    count += found.sampling.low <= expected && expected <= found.sampling.high;
  }
  return count;
}

// The chance of that: flat stays at any capacity are binomial.
double exact_coverage(double accept_risk, int least) {
  const FlatTarget target = flat_target(accept_risk, kStays);
  const boost::math::binomial at(double(kStays), exact_risk(least));
  const boost::math::binomial smaller(double(kStays), exact_risk(least - 1));
  return boost::math::cdf(at, double(target.most)) -
         boost::math::cdf(smaller, double(*target.fewest));
}

}  // namespace

TEST_CASE("the answer is the quantile of the stays' greatest drawdowns, and so is its interval") {
  const SizeOptions kOptions{500, 5, 1};
  const Plan plan = plan_of(kDrawdownPlan);
  const PreparedPlan huge = prepare(plan);
  const DrawnSky sky(huge, kOptions.seed);
  std::vector<double> needed_wh;
  for (std::uint32_t stay = 0; stay < kOptions.stays; ++stay) {
    const WatchedStay watched(huge, sky, stay, kOptions.seed);
    needed_wh.push_back(drawdown_of(changes_wh(huge, watched.hours.home())).greatest());
  }
  const auto flat_at = [&](double size) {
    return static_cast<std::uint64_t>(std::count_if(needed_wh.begin(), needed_wh.end(),
                                                    [&](double needed) { return needed > size; }));
  };
  const auto sizes = sizes_to_try(kLeastBattery_wh, kMostBattery_wh);
  const auto least_with = [&](std::uint64_t flat) {
    return *std::find_if(sizes.begin(), sizes.end(),
                         [&](double size) { return flat_at(size) <= flat; });
  };
  for (const double accept_risk : {0.5, 0.1, 0.02}) {
    CAPTURE(accept_risk);
    const FlatTarget target = flat_target(accept_risk, kOptions.stays);
    const LeastSize found = least_size(plan, {SizeOf::battery, accept_risk, false}, kOptions);
    REQUIRE(found.least);
    CHECK(found.least->size == least_with(target.allowed));
    CHECK(found.sampling.low == least_with(target.most));
    REQUIRE(target.fewest);
    CHECK(found.sampling.high == least_with(*target.fewest));
    std::uint64_t before = kOptions.stays;
    for (const SizeRisk& tried : found.curve) {
      CAPTURE(tried.size);
      CHECK(tried.flat.count == flat_at(tried.size));
      CHECK(tried.flat.count <= before);
      before = tried.flat.count;
    }
  }
}

TEST_CASE("the chain's risk is that of the smallest battery by hand") {
  // A battery of one day's load, full at first, is empty after every day: all days but the first
  // must bring a load, which only sunny ones can.
  const double enough = (kSunnyMost - kLoad + 1.0) / (kSunnyMost - kSunnyLeast + 1.0);
  const double second_sunny =
      kDullAtFirst * (1.0 - kDullAfterDull) + (1.0 - kDullAtFirst) * (1.0 - kDullAfterSunny);
  const double lasts =
      second_sunny * enough * std::pow((1.0 - kDullAfterSunny) * enough, kDays - 2);
  CHECK(exact_risk(kLoad) == Approx(1.0 - lasts).epsilon(1e-12));
}

TEST_CASE("counts at any size are those of the chain") {
  const SizedPlans plans(storage_plan());
  const SizeOptions kMany{100'000, 1, 1};
  const ScriptedSky sky = storage_sky(77);
  for (const int capacity : {60, 90, 120, 160}) {
    CAPTURE(capacity);
    const double flat =
        static_cast<double>(flat_stays(plans.prepared(capacity * kUnit_wh), sky, kMany));
    CHECK(CountedShare{flat, double(kMany.stays)}.errors_from(exact_risk(capacity)) <= kMostErrors);
  }
}

TEST_CASE("the interval of a least size holds the exact one as often as it should") {
  for (const double accept_risk : {0.3, 0.1}) {
    CAPTURE(accept_risk);
    const int least = exact_least(accept_risk);
    const double coverage = exact_coverage(accept_risk, least);
    CAPTURE(least, coverage);
    // Order statistics of few stays, and sizes that are not dense, hold it a little more often.
    CHECK(coverage >= 0.95);
    CHECK(coverage <= 0.98);
    const int count = covering(accept_risk, least * kUnit_wh, kSeeds);
    CHECK(CountedShare{double(count), kSeeds}.errors_from(coverage) <= kMostErrors);
  }
}

TEST_CASE("an interval for another confidence would be found not to hold it") {
  const int least = exact_least(0.1);
  constexpr int kFewSeeds = 100;
  const int count = covering(0.15, least * kUnit_wh, kFewSeeds);
  CHECK(CountedShare{double(count), kFewSeeds}.errors_from(0.95) > 2.0 * kMostErrors);
}

}  // namespace dullspell::least_size_test
