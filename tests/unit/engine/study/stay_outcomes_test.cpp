#include <catch2/catch.hpp>

#include "engine/plan/plan_edit.hpp"
#include "engine/study/prepare.hpp"
#include "engine/study/stay_outcomes.hpp"
#include "engine/study/study.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/random_plan.hpp"

using namespace dullspell;

TEST_CASE("outcomes are those of the study, stay by stay") {
  for (unsigned number = 1; number <= 12; ++number) {
    const PreparedPlan plan = prepared_of(RandomPlan(number).toml());
    INFO("plan " << number);
    const Tally tally = run_stays(plan, DrawnSky(plan, 1), 1, 0, 1'500, 2);
    const StayOutcomes found = run_outcomes(plan, {1'500, 1, 2});
    CHECK(found.stays == 1'500);
    CHECK(found.count_home() == tally.home.flat_stays);
    CHECK(found.has_generator() == plan.generator.has_value());
    if (plan.generator) CHECK(found.count_along() == tally.along.flat_stays);
    double hours = 0.0;
    for (const double h : found.generator_h) hours += h;
    // Each stay is counted in whole 1/1024 h: stays that run for the same time err alike.
    CHECK(hours == Approx(tally.along.generator_h_sum.value()).epsilon(0.0).margin(1'500 / 2048.0));
    // Leaving a track out changes nothing on the other; nor do threads.
    const StayOutcomes home =
        run_outcomes(plan, {1'500, 1, 1, best_instruction_set(), Tracks::home});
    CHECK(home.flat_home == found.flat_home);
    CHECK_FALSE(home.has_generator());
  }
}

TEST_CASE("an edited plan is the plan that a file with the other value makes") {
  const std::string toml = RandomPlan(4).toml();
  const Plan plan = plan_of(toml);
  const Plan stated = plan_of(toml, {"battery.capacity_wh=1234"});
  const Plan edited = with_battery_wh(plan, 1234.0);
  const OutcomeOptions options{500, 1, 1};
  CHECK(edited.battery.charge_limit_w == Approx(stated.battery.charge_limit_w));
  CHECK(run_outcomes(prepare(edited), options).flat_home ==
        run_outcomes(prepare(stated), options).flat_home);
}

TEST_CASE("limits in W stay when a battery grows") {
  const std::string base =
      "arrive = 2027-05-21T15:00:00\n[[camp]]\nplace = \"reno-nv\"\nnights = 2\n"
      "[[load]]\nname = \"all\"\nwatts = 20\n[battery]\ncapacity_wh = 1000\n";
  const Plan follows = with_battery_wh(plan_of(base), 2000.0);
  CHECK(follows.battery.charge_limit_w == 1000.0);
  CHECK(follows.battery.discharge_limit_w == 2000.0);
  const Plan fixed =
      with_battery_wh(plan_of(base + "charge_limit_w = 300\ndischarge_limit_w = 700\n"), 2000.0);
  CHECK(fixed.battery.charge_limit_w == 300.0);
  CHECK(fixed.battery.discharge_limit_w == 700.0);
}
