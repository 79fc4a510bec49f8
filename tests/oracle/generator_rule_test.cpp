#include <algorithm>
#include <cmath>
#include <vector>

#include <Eigen/Dense>
#include <catch2/catch.hpp>

#include "engine/study/night_rule.hpp"
#include "engine/study/study.hpp"
#include "tests/support/engine_oracle.hpp"
#include "tests/support/engine_plan.hpp"

namespace dullspell::generator_rule_test {

// The least generator hours that any rule without foresight needs, by dynamic programming on a
// problem of whole units (Bellman 1957, Dynamic Programming): at 08:00 the generator may add up to
// kCharger units; noon brings a number of units, of a dull day or of a sunny one, no day knowing of
// the day before; at 20:00 the load takes kLoad.

namespace {

constexpr double kUnit_wh = 20.0;
constexpr int kLoad = 50, kCapacity = 75, kCharger = 60, kDays = 10;
constexpr int kDullMost = 40, kSunnyLeast = 45, kSunnyMost = 125;
constexpr double kDull = 0.35;

// Of a policy: mean hours that the generator runs and mean days on which the load is not served.
struct Outcome {
  double hours, flat_days;
};

using Row = Eigen::ArrayXd;  // [stored units]

// Chance of a noon's units.
double chance_of(int units) {
  double chance = 0.0;
  if (units <= kDullMost) chance += kDull / (kDullMost + 1);
  if (units >= kSunnyLeast) chance += (1.0 - kDull) / (kSunnyMost - kSunnyLeast + 1);
  return chance;
}

// The policy that makes hours + price x flat days least, from a full battery on.
Outcome optimum(double price) {
  Row hours = Row::Zero(kCapacity + 1), flat = hours;  // to come, from a morning on
  for (int day = kDays - 1; day >= 0; --day) {
    // Of what is stored once the generator has run.
    Row hours_after = Row::Zero(kCapacity + 1), flat_after = hours_after;
    for (int stored = 0; stored <= kCapacity; ++stored) {
      for (int units = 0; units <= kSunnyMost; ++units) {
        const int evening = std::min(kCapacity, stored + units);
        const int left = std::max(0, evening - kLoad);
        hours_after[stored] += chance_of(units) * hours[left];
        flat_after[stored] += chance_of(units) * ((evening < kLoad ? 1.0 : 0.0) + flat[left]);
      }
    }
    for (int stored = 0; stored <= kCapacity; ++stored) {
      double least = HUGE_VAL;
      for (int added = 0; added <= std::min(kCharger, kCapacity - stored); ++added) {
        const double h = double(added) / kCharger + hours_after[stored + added];
        const double f = flat_after[stored + added];
        if (h + price * f >= least) continue;
        least = h + price * f;
        hours[stored] = h;
        flat[stored] = f;
      }
    }
  }
  return {hours[kCapacity], flat[kCapacity]};
}

// Least hours with so many flat days: on the lower hull of what all prices give.
double least_hours(double flat_days) {
  std::vector<Outcome> hull;
  for (double price = 0.25; price < 4000.0; price *= 1.05) hull.push_back(optimum(price));
  for (std::size_t i = 1; i < hull.size(); ++i) {
    const Outcome &more = hull[i - 1], &fewer = hull[i];
    if (fewer.flat_days > flat_days) continue;
    const double width = more.flat_days - fewer.flat_days;
    const double share = width > 0.0 ? (more.flat_days - flat_days) / width : 0.0;
    return more.hours + share * (fewer.hours - more.hours);
  }
  return hull.back().hours;
}

PreparedPlan generator_plan(double accept_risk) {
  PreparedPlan plan = bare_plan(kDays, {8, 12, 20}, kCapacity * kUnit_wh);
  set_panels(plan, 12, kSunnyMost * kUnit_wh);
  set_load(plan, 20, kLoad * kUnit_wh);
  Generator generator;
  generator.rated_w = 2.0 * kCharger * kUnit_wh;
  generator.charger_w = kCharger * kUnit_wh;
  generator.min_run_h = 0.0;
  generator.margin = 0.0;
  plan.generator = generator;
  plan.accept_risk = accept_risk;
  for (HourSlot& slot : plan.hours) {
    if (slot.hour_of_day == 8) allow_generator(slot, 1.0);
  }
  return plan;
}

ScriptedSky two_kinds(std::uint64_t seed) {
  return ScriptedSky([seed](std::uint32_t stay, std::span<SegmentSky> out) {
    for (std::size_t d = 0; d < out.size(); ++d) {
      const auto day = static_cast<std::uint32_t>(d);
      const bool dull = test_uniform(seed, stay, 2 * day) < kDull;
      const int least = dull ? 0 : kSunnyLeast, most = dull ? kDullMost : kSunnyMost;
      const double share = test_uniform(seed, stay, 2 * day + 1);
      const int units = least + static_cast<int>(share * (most - least + 1));
      out[d] = mild_day(static_cast<double>(units) / kSunnyMost);
    }
  });
}

}  // namespace

TEST_CASE("rule night loses at most 5 % in hours against the best rule at the same risk") {
  for (const double accepted : {0.2, 0.1, 0.03}) {
    CAPTURE(accepted);
    PreparedPlan plan = generator_plan(accepted);
    follow(night_rule(plan, two_kinds(11)), plan);
    StudyOptions options;
    options.stays = 40'000;
    const StudyResult result = run_study(plan, two_kinds(12), options);
    REQUIRE(result.generator);
    const GeneratorResult& along = *result.generator;
    CHECK(along.risk.flat.p < accepted);
    CHECK(along.risk.flat.count > 100);
    const double best_h = least_hours(along.risk.flat_h.mean);
    // Hours of a stay spread by less than an hour or two: their mean is good to 0.02.
    CHECK(along.hours.mean > best_h - 0.02);
    CHECK(along.hours.mean < 1.05 * best_h + 0.02);
    CHECK(result.home.flat_h.mean > 1.0);
  }
}

}  // namespace dullspell::generator_rule_test
