#include <cmath>
#include <random>

#include <catch2/catch.hpp>

#include "engine/decisions/plan_comparison.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/study/prepare.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/random_plan.hpp"

namespace dullspell::plan_comparison_test {

namespace {

const std::string kSmall = R"(
arrive = 2027-05-21T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 4
canopy = 0.3
[battery]
capacity_wh = 1000
[[panels]]
rated_w = 200
[[load]]
name = "lamp"
watts = 40
)";

const std::string kGenerator = R"(
[generator]
rated_w = 1000
charger_w = 400
allowed = [["17:00", "18:00"]]
min_run_h = 0.5
)";

StudyOptions options(std::uint64_t stays, std::uint64_t seed = 1) {
  StudyOptions out;
  out.stays = stays;
  out.seed = seed;
  return out;
}

}  // namespace

TEST_CASE("compared plans count as they do alone, and pair stay by stay") {
  const Plan small = plan_of(kSmall);
  const Plan large = with_battery_wh(small, 1300.0);
  const auto compared = compare_plans({small, large, plan_of(kSmall + kGenerator)}, options(3'000));
  REQUIRE(compared.size() == 3);
  for (const ComparedPlan& one : compared) {
    CHECK(one.outcomes.count_home() == one.result.home.flat.count);
    if (one.result.generator) {
      CHECK(one.outcomes.count_along() == one.result.generator->risk.flat.count);
    }
  }
  // By brute force: each stay of each plan by itself.
  const PreparedPlan first = prepare(small), second = prepare(large);
  const DrawnSky sky_first(first, 1), sky_second(second, 1);
  StayRunner run_first(first, sky_first, 1), run_second(second, sky_second, 1);
  std::uint64_t only_first = 0, only_second = 0;
  for (std::uint32_t stay = 0; stay < 3'000; ++stay) {
    const bool a = run_first.run(stay).home.ever_flat(), b = run_second.run(stay).home.ever_flat();
    only_first += a && !b;
    only_second += b && !a;
  }
  const PlanDifference found = plan_difference(compared[0].outcomes, compared[1].outcomes);
  CHECK(found.home.only_first == only_first);
  CHECK(found.home.only_second == only_second);
  CHECK(only_first > 100);
  CHECK(found.home.difference == Approx((double(only_second) - double(only_first)) / 3'000.0));
  CHECK_FALSE(found.planned);
  CHECK_FALSE(found.generator_h);
}

TEST_CASE("a plan with a generator stands against one without as both are written") {
  const auto compared =
      compare_plans({plan_of(kSmall), plan_of(kSmall + kGenerator)}, options(1'000));
  const PlanDifference found = plan_difference(compared[0].outcomes, compared[1].outcomes);
  CHECK(found.home.only_first + found.home.only_second == 0);
  REQUIRE(found.planned);
  CHECK(found.planned->only_first ==
        compared[0].outcomes.count_home() - compared[1].outcomes.count_along());
  CHECK(found.planned->only_second == 0);
  CHECK_FALSE(found.generator_h);
}

TEST_CASE("generator hours are compared where both plans have one") {
  const Plan plan = plan_of(kSmall + kGenerator);
  const auto compared = compare_plans({plan, with_panels_w(plan, 400.0)}, options(1'000));
  const auto hours = plan_difference(compared[0].outcomes, compared[1].outcomes).generator_h;
  REQUIRE(hours);
  CHECK(hours->difference ==
        Approx(compared[1].result.generator->hours.mean - compared[0].result.generator->hours.mean)
            .margin(2e-3));  // a study keeps hours in 1/1024
  CHECK(hours->interval.high < 0.0);
}

TEST_CASE("a difference has a climate interval where both plans meet the same climate") {
  const Plan small = plan_of(kSmall);
  const auto compared = compare_plans(
      {small, with_battery_wh(small, 1050.0), plan_of(kSmall, {"camp[1].place=moab-ut"}),
       plan_of(kSmall, {"arrive=2027-05-22T15:00:00"}), plan_of(kSmall, {"camp[1].nights=6"})},
      options(2'000));
  const auto larger = difference_climate(compared[0], compared[1]);
  REQUIRE(larger);
  const PairedDifference found = plan_difference(compared[0].outcomes, compared[1].outcomes).home;
  CHECK(larger->home.low <= found.interval.low);
  CHECK(larger->home.high >= found.interval.high);
  CHECK(larger->home.high < 0.0);
  // Narrower by far than that of either share: what is not known moves both alike.
  CHECK(larger->home.half_width() < 0.5 * compared[0].result.home.flat_climate->half_width());
  CHECK_FALSE(difference_climate(compared[0], compared[2]));
  CHECK_FALSE(difference_climate(compared[0], compared[3]));
  CHECK(difference_climate(compared[0], compared[4]));

  const auto itself = difference_climate(compared[0], compared[0]);
  CHECK(itself->home.half_width() < 0.003);
}

TEST_CASE("the number of stays that would tell has a chance of 80 % to do so") {
  // The worked formula against drawn experiments: differing stays are multinomial.
  constexpr std::uint64_t kSeen = 1'000;
  PairedDifference seen;
  seen.only_first = 30;
  seen.only_second = 18;
  seen.difference = -12.0 / kSeen;
  const auto needed = stays_to_tell(seen, kSeen);
  REQUIRE(needed);
  const auto stays = static_cast<int>(std::lround(*needed));
  std::mt19937_64 random(3);
  int told = 0;
  constexpr int kTimes = 4'000;
  for (int time = 0; time < kTimes; ++time) {
    const int first = std::binomial_distribution<int>(stays, 0.030)(random);
    const int second = std::binomial_distribution<int>(stays - first, 0.018 / 0.970)(random);
    const Interval interval =
        tango_interval(static_cast<std::uint64_t>(first), static_cast<std::uint64_t>(second),
                       static_cast<std::uint64_t>(stays));
    told += interval.high < 0.0;
  }
  // Four standard errors of 4,000 trials, and the normal approximation.
  CHECK(told / double(kTimes) == Approx(0.80).margin(0.04));

  seen.only_second = 30;
  seen.difference = 0.0;
  CHECK_FALSE(stays_to_tell(seen, kSeen));
}

TEST_CASE("random plans compare with each other") {
  for (unsigned number = 0; number < 12; number += 2) {
    const auto compared = compare_plans(
        {plan_of(RandomPlan(number).toml()), plan_of(RandomPlan(number + 1).toml())}, options(200));
    const PlanDifference found = plan_difference(compared[0].outcomes, compared[1].outcomes);
    CAPTURE(number);
    CHECK(found.home.interval.low <= found.home.difference);
    CHECK(found.home.difference <= found.home.interval.high);
  }
}

}  // namespace dullspell::plan_comparison_test
