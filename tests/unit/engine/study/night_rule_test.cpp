#include "engine/study/night_rule.hpp"

#include <cmath>

#include <catch2/catch.hpp>

#include "engine/kernel/block_runner.hpp"
#include "engine/study/study.hpp"
#include "tests/support/engine_plan.hpp"

using namespace dullspell;

namespace {

/// A week in wet forest whose evenings and mornings allow a generator.
const std::string kForest = R"(
arrive = 2027-05-21T15:00:00
accept_risk = 0.10
[[camp]]
place = "crescent-city-ca"
nights = 4
canopy = 0.5
skyline = [ { from_deg = 60, to_deg = 300, height_deg = 25, lets_through = 0.1 } ]
[[camp]]
place = "south-lake-tahoe-ca"
nights = 3
canopy = 0.3
drive_in_h = 2.5
[vehicle]
charge_w = 250
[battery]
capacity_wh = 1920
[inverter]
rated_w = 2000
standby_w = 14
[[panels]]
rated_w = 400
mount = { tilt_deg = 35, azimuth_deg = 180 }
controller_limit_w = 500
[[panels]]
rated_w = 200
mount = "flat"
[[load]]
name = "standby"
watts = 29
[[load]]
name = "satellite internet"
side = "ac"
watts = 45
between = ["16:00", "22:00"]
[[load]]
name = "laptop"
side = "ac"
watts = 55
hours_per_day = 4
between = ["09:00", "23:00"]
varies = 0.3
optional_below = 0.2
[fridge]
running_w = 50
[generator]
rated_w = 1800
charger_w = 800
min_run_h = 0
margin = 0
allowed = [["08:00", "10:00"], ["17:00", "20:00"]]
)";

const std::vector<std::string> kSmall{"battery.capacity_wh=900", "camp[1].canopy=0.8"};

StudyResult result_of(const PreparedPlan& plan) {
  StudyOptions options;
  options.stays = 4096;
  return run_study(plan, options);
}

int windows_of(const PreparedPlan& plan) {
  int windows = 0;
  bool inside = false;
  for (const HourSlot& slot : plan.hours) {
    const bool allowed = slot.source == Source::generator;
    windows += allowed && !inside;
    inside = allowed;
  }
  return windows;
}

std::vector<std::string> with(std::vector<std::string> settings, const std::string& more) {
  settings.push_back(more);
  return settings;
}

/// What stays of the first block need in each hour, [hour][stay].
struct Needed {
  std::vector<StayRow> before, resting, after;

  explicit Needed(const PreparedPlan& plan) {
    const StayTables tables(plan);
    const DrawnSky sky(plan, 5);
    BlockRunner runner(plan, tables, 5, kernel_for(best_instruction_set()));
    const NeededEnergy needed = runner.needed_energy(sky, 0);
    const auto rows = [&](const double* from) {
      const auto* first = reinterpret_cast<const StayRow*>(from);
      return std::vector<StayRow>(first, first + plan.hours.size() + 1);
    };
    before = rows(needed.before_wh);
    resting = rows(needed.resting_wh);
    after = rows(needed.after_wh);
  }
};

void forbid(HourSlot& slot) {
  slot.source = Source::none;
  slot.source_share = 0.0;
}

}  // namespace

TEST_CASE("with a battery of any size a generator runs little longer than with foresight") {
  const auto windows = std::string("generator.allowed=[[\"08:00\",\"22:00\"]]");
  struct Kit {
    std::vector<std::string> settings;
    double most_over_foresight;
  };
  // In a window of the whole day a small battery starts early, for there it cannot hold what the
  // rest of the day and the night take: some more than 1.4.
  const std::vector<Kit> kits{{{}, 1.4}, {kSmall, 1.4}, {with(kSmall, windows), 1.6}};
  for (const Kit& kit : kits) {
    CAPTURE(kit.settings);
    const PreparedPlan plan = prepare(plan_of(kForest, kit.settings));
    const StudyResult result = result_of(plan);
    REQUIRE(result.generator);
    REQUIRE(result.generator->least_hours);
    const GeneratorResult& along = *result.generator;
    CHECK(along.hours.mean < kit.most_over_foresight * along.least_hours->mean);
    CHECK(along.hours.mean > 0.9 * along.least_hours->mean);
    CHECK(result.home.flat.p > 0.1);
    CHECK(along.risk.flat.interval.low < 0.1);
    CHECK(along.risk.flat.p < 0.12);
  }
}

TEST_CASE("a generator with a shortest run starts about once a window at most") {
  struct Windows {
    std::string setting;
    double most_starts;
  };
  // In a window of the whole day a full battery lasts from one start to the night on most days
  // only.
  for (const auto& [setting, most_starts] :
       {Windows{"generator.min_run_h=1", 1.0},
        Windows{"generator.allowed=[[\"08:00\",\"22:00\"]]", 1.2}}) {
    CAPTURE(setting);
    const PreparedPlan plan =
        prepare(plan_of(kForest, with(with(kSmall, "generator.min_run_h=1"), setting)));
    const StudyResult result = result_of(plan);
    CHECK(result.generator->starts.mean < most_starts * windows_of(plan));
    CHECK(result.generator->risk.flat.interval.low < 0.1);
  }
}

TEST_CASE("levels keep to what the battery holds and say nothing in hours without a generator") {
  for (const auto& settings : {std::vector<std::string>{}, kSmall}) {
    const PreparedPlan plan = prepare(plan_of(kForest, settings));
    int allowed = 0;
    for (const HourSlot& slot : plan.hours) {
      if (slot.source != Source::generator) {
        CHECK(slot.start_below_wh < 0.0);
        continue;
      }
      ++allowed;
      CHECK(slot.stop_at_wh <= plan.usable_wh());
      CHECK(slot.start_below_wh <= plan.usable_wh());
    }
    CHECK(allowed > 20);
  }
}

TEST_CASE("the smaller the accepted risk the more the generator runs, and the less is flat") {
  double last_h = 0.0, last_flat = 1.0;
  for (const auto* accepted : {"accept_risk=0.2", "accept_risk=0.05", "accept_risk=0.005"}) {
    CAPTURE(accepted);
    const StudyResult result = result_of(prepare(plan_of(kForest, {accepted})));
    CHECK(result.generator->hours.mean >= last_h);
    CHECK(result.generator->risk.flat.p <= last_flat);
    last_h = result.generator->hours.mean;
    last_flat = result.generator->risk.flat.p;
  }
  CHECK(last_flat < 0.02);
}

TEST_CASE(
    "levels that last in more stays leave fewer flat, also where a full battery may not last") {
  const PreparedPlan stated = prepare_stay(plan_of(kForest, kSmall));
  const NightRules rules(stated, DrawnSky(stated, 1));
  double last_h = 0.0, last_flat = 1.0;
  for (const double share : NightRules::shares()) {
    CAPTURE(share);
    PreparedPlan plan = stated;
    follow(rules.lasting_in(share, 0.0), plan);
    const StudyResult result = result_of(plan);
    CHECK(result.generator->hours.mean >= last_h);
    CHECK(result.generator->risk.flat.p <= last_flat);
    last_h = result.generator->hours.mean;
    last_flat = result.generator->risk.flat.p;
  }
}

TEST_CASE("a margin for what a plan forgot is kept at the end, and costs it about once") {
  const StudyResult without = result_of(prepare(plan_of(kForest)));
  const PreparedPlan plan = prepare(plan_of(kForest, {"generator.margin=0.1"}));
  const StudyResult with_margin = result_of(plan);
  CHECK(with_margin.generator->risk.flat.p < 0.5 * without.generator->risk.flat.p);
  const double hours_of_margin = 0.1 * plan.usable_wh() / plan.generator->charger_w;
  CHECK(with_margin.generator->hours.mean > without.generator->hours.mean);
  CHECK(with_margin.generator->hours.mean < without.generator->hours.mean + 1.5 * hours_of_margin);
}

TEST_CASE("what stays need is what plans without those hours of the generator need") {
  const PreparedPlan plan = prepare(plan_of(kForest, kSmall));
  const Needed needed(plan);
  int compared = 0;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    if (plan.hours[h].source != Source::generator) continue;
    CAPTURE(h);
    PreparedPlan without_hour = plan, without_rest = plan;
    forbid(without_hour.hours[h]);
    for (std::size_t i = h + 1; i < plan.hours.size(); ++i) {
      if (plan.hours[i].source != Source::generator) break;
      forbid(without_rest.hours[i]);
    }
    const Needed hour(without_hour), rest(without_rest);
    for (std::size_t i = 0; i < kBlockStays; ++i) {
      REQUIRE(needed.resting[h].stay[i] == Approx(hour.before[h].stay[i]).margin(1e-4));
      REQUIRE(needed.after[h].stay[i] == Approx(rest.before[h + 1].stay[i]).margin(1e-4));
      CHECK(needed.before[h].stay[i] <= needed.resting[h].stay[i] + 1e-4);
    }
    ++compared;
  }
  CHECK(compared > 20);
}

TEST_CASE("a rule is a pure function of the plan, whatever a study's seed") {
  const Plan plan = plan_of(kForest);
  const PreparedPlan one = prepare(plan), other = prepare(plan);
  for (std::size_t h = 0; h < one.hours.size(); ++h) {
    CHECK(one.hours[h].start_below_wh == other.hours[h].start_below_wh);
    CHECK(one.hours[h].stop_at_wh == other.hours[h].stop_at_wh);
  }
}
