#include <bit>

#include <catch2/catch.hpp>

#include "engine/plan/plan_edit.hpp"
#include "engine/study/prepare.hpp"
#include "engine/study/stay_outcomes.hpp"
#include "tests/support/engine_balance.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/random_plan.hpp"

namespace dullspell::random_plans_test {

namespace {

constexpr unsigned kPlans = 120;

OutsidePower outside_of(const PreparedPlan& plan, const HourSlot& slot) {
  const StayTables tables(plan);
  return slot.source == Source::mains       ? tables.hours().mains
         : slot.source == Source::generator ? tables.hours().generator.power
                                            : OutsidePower{};
}

// Without what makes more storage or sun ask for more: loads that a fuller battery keeps on.
Plan plain_plan(unsigned number) {
  Plan plan = plan_of(RandomPlan(number).toml());
  plan.generator.reset();
  for (Load& load : plan.loads) load.optional_below.reset();
  return plan;
}

std::vector<std::uint64_t> flat_stays_of(const Plan& plan) {
  return run_outcomes(prepare(plan), {256, 1, 1}).flat_home;
}

// Stays that run flat with the better kit, but not with the other.
std::uint64_t only_with_better(const std::vector<std::uint64_t>& better,
                               const std::vector<std::uint64_t>& other) {
  std::uint64_t count = 0;
  for (std::size_t i = 0; i < better.size(); ++i) {
    count += static_cast<std::uint64_t>(std::popcount(better[i] & ~other[i]));
  }
  return count;
}

}  // namespace

TEST_CASE("on plans of all kinds energy is conserved in every hour, on both tracks") {
  int with_outside = 0;
  for (unsigned number = 1; number <= kPlans; ++number) {
    CAPTURE(number);
    const PreparedPlan plan = prepared_of(RandomPlan(number).toml());
    const WatchedStay stay(plan, DrawnSky(plan, 7), 11, 7);
    for (const auto& track : stay.hours.tracks()) {
      for (std::size_t h = 0; h < track.size(); ++h) {
        const auto& [needs, flow] = track[h];
        check_balance(plan.battery, needs, outside_of(plan, plan.hours[h]), flow);
        with_outside += flow.outside_share > 0.0;
      }
    }
  }
  CHECK(with_outside > 1000);
}

TEST_CASE("without a generator no stay runs flat for having more panels") {
  int helped = 0;
  for (unsigned number = 1; number <= kPlans; ++number) {
    CAPTURE(number);
    const Plan plan = plain_plan(number);
    if (plan.panels.empty()) continue;
    const auto flat = flat_stays_of(plan);
    const auto more = flat_stays_of(with_panels_w(plan, 1.3 * rated_panels_w(plan)));
    CHECK(only_with_better(more, flat) == 0);
    helped += only_with_better(flat, more) > 0;
  }
  CHECK(helped > 10);
}

TEST_CASE("without a generator no stay runs flat for having more battery") {
  int helped = 0;
  for (unsigned number = 1; number <= kPlans; ++number) {
    CAPTURE(number);
    const Plan plan = plain_plan(number);
    const auto flat = flat_stays_of(plan);
    const auto more = flat_stays_of(with_battery_wh(plan, 1.3 * plan.battery.capacity_wh));
    CHECK(only_with_better(more, flat) == 0);
    helped += only_with_better(flat, more) > 0;
  }
  CHECK(helped > 10);
}

}  // namespace dullspell::random_plans_test
