#include <algorithm>
#include <cmath>
#include <set>

#include <catch2/catch.hpp>

#include "engine/decisions/levers.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/study/prepare.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/random_plan.hpp"

namespace dullspell::levers_test {

namespace {

const std::string kPlan = R"(arrive = 2027-05-21T15:00:00
summer_time = true
[[camp]]
place = "crescent-city-ca"
nights = 4
canopy = 0.3
[battery]
capacity_wh = 2600
[inverter]
rated_w = 1000
[[panels]]
rated_w = 300
[[load]]
name = "lamp"
watts = 30
[[load]]
name = "laptop"
side = "ac"
watts = 60
hours_per_day = 4
between = ["09:00", "23:00"]
varies = 0.3
[[load]]
name = "night light"
side = "ac"
watts = 5
between = ["22:00", "06:00"]
[fridge]
running_w = 40
[furnace]
blower_w = 80
output_w = 5000
heat_loss_w_per_k = 120
hold_c = [{ from = "22:00", to = "07:00", c = 14 }]
)";

const std::string kGenerator = R"([generator]
rated_w = 1000
charger_w = 400
allowed = [["08:00", "10:00"], ["17:00", "20:00"]]
)";

StudyOptions options(std::uint64_t stays, std::uint64_t seed = 1, int threads = 0) {
  StudyOptions out;
  out.stays = stays;
  out.seed = seed;
  out.threads = threads;
  return out;
}

std::set<LeverKind> kinds(const Plan& plan) {
  std::set<LeverKind> out;
  for (const Lever& lever : levers_of(plan)) out.insert(lever.kind);
  return out;
}

const Lever& lever_of(const std::vector<Lever>& levers, LeverKind kind,
                      const std::string& subject = "") {
  return *std::find_if(levers.begin(), levers.end(), [&](const Lever& lever) {
    return lever.kind == kind && lever.subject == subject;
  });
}

LeverStudy study(const Plan& plan, const StudyOptions& options) {
  return run_levers(plan, prepare(plan), options);
}

}  // namespace

TEST_CASE("a plan of every kind of kit has every lever, each with its words and its plan") {
  const Plan plan = plan_of(kPlan);
  const auto levers = levers_of(plan);
  CHECK(levers.size() == 3 + 3 + 10);
  CHECK(kinds(plan).size() == 12);

  const Lever& tilted = lever_of(levers, LeverKind::panels_tilted);
  // 41.8° north; declination 20.6° on 23 May, the middle day (almanac, from memory).
  CHECK(tilted.change == "flat panels tilted 21° to the south");
  CHECK(std::get<PlaneDirection>(tilted.plan.panels[0].mount).tilt_deg == 21.0);
  CHECK(std::get<PlaneDirection>(tilted.plan.panels[0].mount).azimuth_deg == 180.0);

  // Solar noon on summer time at 124.2° west is 13:13 or so: 8, 11 and 14 by the sun.
  CHECK(lever_of(levers, LeverKind::panels_turned).change ==
        "all panels turned to the sun by hand at 09:00, 12:00, 15:00");
  CHECK(lever_of(levers, LeverKind::inverter_off_at_night).change ==
        "inverter off from 23:00 to 07:00 (and with it: night light)");
  CHECK(lever_of(levers, LeverKind::load_halved, "laptop").change ==
        "laptop: 2 h a day in place of 4 h");
  CHECK(lever_of(levers, LeverKind::load_halved, "lamp").change == "lamp: 15 W in place of 30 W");
  CHECK(lever_of(levers, LeverKind::shorter_stay).plan.nights() == 3);
  CHECK(lever_of(levers, LeverKind::more_battery).plan.battery.capacity_wh == 3100.0);
  CHECK(rated_panels_w(lever_of(levers, LeverKind::more_panels).plan) == Approx(400.0));
  CHECK(lever_of(levers, LeverKind::cooler_furnace).plan.furnace->hold[0].set_point_c == 11.0);
  CHECK(lever_of(levers, LeverKind::open_camp).plan.camps[0].canopy == 0.0);

  const Generator& lent = *lever_of(levers, LeverKind::generator_hour).plan.generator;
  CHECK(lent.rated_w == 1000.0);
  CHECK(lent.charger_w == 500.0);
  REQUIRE(lent.allowed.size() == 1);
  CHECK(lent.allowed[0].from_min == 17 * 60);
  CHECK(lent.allowed[0].to_min == 18 * 60);
  // A generator of the plan's own has its rule and its hours: no other is laid upon it.
  CHECK(kinds(plan_of(kPlan + kGenerator)).count(LeverKind::generator_hour) == 0);
}

TEST_CASE("no lever goes without what guards people") {
  const Plan plan = plan_of(kPlan +
                            "[[load]]\nname = \"CO alarm\"\nwatts = 2\n[[load]]\nname = \"CPAP\"\n"
                            "side = \"ac\"\nwatts = 40\nhours_per_day = 8\nbetween = [\"22:00\", "
                            "\"07:00\"]\n");
  for (const Lever& lever : levers_of(plan)) {
    INFO(lever.change);
    CHECK(lever.subject != "CO alarm");
    CHECK(lever.subject != "CPAP");
    CHECK(lever.kind != LeverKind::inverter_off_at_night);
  }
}

TEST_CASE("flat panels face the noon sun wherever the camp is") {
  const auto change = [](const std::string& place, const std::string& date) {
    const auto levers = levers_of(plan_of("arrive = " + date + "T12:00:00\n[[camp]]\nplace = \"" +
                                          place + "\"\nnights = 2\n" +
                                          "[battery]\ncapacity_wh = 500\n[[panels]]\nrated_w = "
                                          "100\n[[load]]\nname = \"lamp\"\nwatts = 9\n"));
    return lever_of(levers, LeverKind::panels_tilted).change;
  };
  // Declination -23.4° on 21 December: 25.8° north is 49° from the sun at noon.
  CHECK(change("miami-fl", "2027-12-20") == "flat panels tilted 49° to the south");
  // In June it all but stands overhead: no flatter than 10°.
  CHECK(change("miami-fl", "2027-06-20") == "flat panels tilted 10° to the south");
}

TEST_CASE("what could change nothing is no lever") {
  const auto has = [](const std::string& toml, LeverKind kind,
                      const std::vector<std::string>& settings = {}) {
    return kinds(plan_of(toml, settings)).count(kind) > 0;
  };
  CHECK_FALSE(has(kPlan, LeverKind::open_camp, {"camp[1].canopy=0"}));
  CHECK_FALSE(has(kPlan, LeverKind::shorter_stay, {"camp[1].nights=1"}));
  CHECK_FALSE(
      has(kPlan, LeverKind::inverter_off_at_night, {"inverter.on=[[\"08:00\", \"22:00\"]]"}));
  CHECK_FALSE(has(kPlan, LeverKind::panels_tilted,
                  {"panels[1].mount={ tilt_deg = 30, azimuth_deg = 180 }"}));
  CHECK_FALSE(has(kPlan, LeverKind::panels_turned, {"panels[1].mount={ aimed_at = [\"12:00\"] }"}));
  // Under way on the last day: there is no earlier departure.
  CHECK_FALSE(
      has(kPlan, LeverKind::shorter_stay, {"now=2027-05-24T12:00:00", "battery.start_charge=0.5"}));
  CHECK(
      has(kPlan, LeverKind::shorter_stay, {"now=2027-05-24T10:00:00", "battery.start_charge=0.5"}));
  // A load that the inverter's hours never let run.
  const auto levers = levers_of(plan_of(kPlan, {"inverter.on=[[\"08:00\", \"21:00\"]]"}));
  CHECK(std::none_of(levers.begin(), levers.end(),
                     [](const Lever& lever) { return lever.subject == "night light"; }));
}

TEST_CASE("effects are those of the plans run by themselves, stay by stay") {
  const Plan plan = plan_of(kPlan + kGenerator);
  const LeverStudy found = study(plan, options(1'000));
  const PreparedPlan prepared = prepare(plan);
  const DrawnSky sky(prepared, 1);
  StayRunner runner(prepared, sky, 1);
  std::vector<bool> base_flat;
  std::vector<double> base_h;
  for (std::uint32_t stay = 0; stay < 1'000; ++stay) {
    const StayTrace& trace = runner.run(stay);
    base_flat.push_back(trace.home.ever_flat());
    base_h.push_back(trace.along.generator_h);
  }
  CHECK(found.base.home.flat.count ==
        static_cast<std::uint64_t>(std::count(base_flat.begin(), base_flat.end(), true)));

  for (const LeverEffect& effect : found.effects) {
    INFO(effect.lever.change);
    const PreparedPlan changed = prepare(effect.lever.plan);
    const DrawnSky changed_sky(changed, 1);
    StayRunner changed_runner(changed, changed_sky, 1);
    std::uint64_t only_base = 0, only_changed = 0;
    double hours = 0.0;
    for (std::uint32_t stay = 0; stay < 1'000; ++stay) {
      const StayTrace& trace = changed_runner.run(stay);
      const bool flat =
          effect.lever.with_generator() ? trace.along.ever_flat() : trace.home.ever_flat();
      only_base += base_flat[stay] && !flat;
      only_changed += flat && !base_flat[stay];
      hours += trace.along.generator_h - base_h[stay];
    }
    CHECK(effect.difference.only_first == only_base);
    CHECK(effect.difference.only_second == only_changed);
    CHECK(effect.flat.count == found.base.home.flat.count + only_changed - only_base);
    REQUIRE(effect.generator_h);
    CHECK(effect.generator_h->difference == Approx(hours / 1'000.0).margin(1e-9));
    CHECK(effect.difference_climate.low <= effect.difference.interval.low + 1e-12);
    CHECK(effect.difference_climate.high >= effect.difference.interval.high - 1e-12);
  }
}

TEST_CASE("levers come in the order of the points that they take off") {
  const LeverStudy found = study(plan_of(kPlan), options(2'000));
  CHECK(
      std::is_sorted(found.effects.begin(), found.effects.end(),
                     [](const auto& a, const auto& b) { return a.points_off() > b.points_off(); }));
  CHECK(found.effects.front().difference.is_clear());
  // Half as much of a load cannot do more than none of it.
  const auto at = [&](LeverKind kind, const std::string& subject) {
    return std::find_if(found.effects.begin(), found.effects.end(), [&](const LeverEffect& effect) {
      return effect.lever.kind == kind && effect.lever.subject == subject;
    });
  };
  CHECK(at(LeverKind::load_left_out, "lamp") < at(LeverKind::load_halved, "lamp"));
  CHECK_FALSE(found.effects.front().generator_h);
}

TEST_CASE("levers do not depend on threads") {
  const Plan plan = plan_of(kPlan + kGenerator);
  const LeverStudy one = study(plan, options(1'500, 1, 1)),
                   three = study(plan, options(1'500, 1, 3));
  REQUIRE(one.effects.size() == three.effects.size());
  for (std::size_t i = 0; i < one.effects.size(); ++i) {
    CHECK(one.effects[i].lever.change == three.effects[i].lever.change);
    CHECK(one.effects[i].flat.count == three.effects[i].flat.count);
    CHECK(one.effects[i].generator_h->interval.low == three.effects[i].generator_h->interval.low);
    CHECK(one.effects[i].difference_climate.low == three.effects[i].difference_climate.low);
  }
}

TEST_CASE(
    "a difference on the same simulated weather varies far less than one of independent draws") {
  // A battery that runs flat in about half of the stays, and one twentieth larger.
  const Plan plan = plan_of(kPlan);
  const PreparedPlan base = prepare(plan),
                     changed = prepare(with_battery_wh(plan, 1.05 * plan.battery.capacity_wh));
  constexpr std::uint64_t kStays = 256;
  constexpr int kSeeds = 400;
  const auto run = [&](const PreparedPlan& which, int seed) {
    OutcomeOptions each;
    each.stays = kStays;
    each.seed = static_cast<std::uint64_t>(seed);
    return run_outcomes(which, each);
  };
  const auto variance = [](const std::vector<double>& values) {
    double sum = 0.0, squares = 0.0;
    for (const double v : values) sum += v;
    const double mean = sum / static_cast<double>(values.size());
    for (const double v : values) squares += (v - mean) * (v - mean);
    return squares / static_cast<double>(values.size() - 1);
  };
  std::vector<double> paired, independent;
  double expected_paired = 0.0, expected_independent = 0.0;
  const auto bernoulli = [](std::uint64_t count) {
    const double p = double(count) / double(kStays);
    return p * (1.0 - p);
  };
  for (int seed = 1; seed <= kSeeds; ++seed) {
    const StayOutcomes first = run(base, seed), second = run(changed, seed);
    const PairedDifference d = paired_difference(first.flat_home, second.flat_home, kStays);
    paired.push_back(d.difference);
    const double differing = double(d.only_first + d.only_second) / double(kStays);
    expected_paired += (differing - d.difference * d.difference) / double(kStays) / kSeeds;
    const StayOutcomes other = run(changed, seed + kSeeds);
    independent.push_back((double(other.count_home()) - double(first.count_home())) /
                          double(kStays));
    expected_independent +=
        (bernoulli(first.count_home()) + bernoulli(other.count_home())) / double(kStays) / kSeeds;
  }
  const double ratio = variance(independent) / variance(paired);
  CAPTURE(ratio, variance(paired), expected_paired, variance(independent), expected_independent);
  // The variance of a variance of n normal values is 2 / (n - 1) of its square: four times its
  // root.
  const double margin = 4.0 * std::sqrt(2.0 / (kSeeds - 1));
  CHECK(variance(paired) / expected_paired == Approx(1.0).margin(margin));
  CHECK(variance(independent) / expected_independent == Approx(1.0).margin(margin));
  CHECK(ratio > 5.0);
}

TEST_CASE("no lever of a random plan fails") {
  for (unsigned number = 0; number < 40; ++number) {
    const std::string toml = RandomPlan(number).toml();
    CAPTURE(number, toml);
    const Plan plan = plan_of(toml);
    const LeverStudy found = study(plan, options(100));
    CHECK(found.effects.size() == levers_of(plan).size());
    for (const LeverEffect& effect : found.effects) {
      INFO(effect.lever.change);
      CHECK(effect.difference.interval.low <= effect.difference.difference);
      CHECK(effect.difference.difference <= effect.difference.interval.high);
      CHECK(effect.generator_h.has_value() == plan.generator.has_value());
    }
  }
}

}  // namespace dullspell::levers_test
