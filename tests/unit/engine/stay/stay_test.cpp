#include <algorithm>
#include <numeric>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "tests/support/engine_plan.hpp"

namespace dullspell::stay_test {

// One stay at a time: what the generator does, and the least that it would have had to do.

namespace {

constexpr SegmentSky kNoSun = mild_day(0.0);

std::vector<int> whole_days() {
  std::vector<int> hours(24);
  std::iota(hours.begin(), hours.end(), 0);
  return hours;
}

/// 1,000 Wh lossless, full; a steady load; 400 W of charger behind a generator of 1,000 W.
PreparedPlan simple_plan(int days, double load_w,
                         const std::vector<std::pair<int, double>>& allowed) {
  PreparedPlan plan = bare_plan(days, whole_days(), 1000.0);
  for (int hour = 0; hour < 24; ++hour) set_load(plan, hour, load_w);
  Generator generator;
  generator.rated_w = 1000.0;
  generator.charger_w = 400.0;
  generator.charger_efficiency = 0.8;
  generator.rule = GeneratorRule::below;
  generator.start_below = 0.3;
  generator.stop_at = 0.8;
  generator.min_run_h = 0.0;
  generator.fuel_l_per_h_idle = 0.2;
  generator.fuel_l_per_kwh = 0.35;
  plan.generator = generator;
  for (HourSlot& slot : plan.hours) {
    for (const auto& [hour, share] : allowed) {
      if (slot.hour_of_day == hour) allow_generator(slot, share);
    }
  }
  set_generator_rule(plan);
  return plan;
}

std::vector<std::pair<int, double>> any_time() {
  std::vector<std::pair<int, double>> out;
  for (int hour = 0; hour < 24; ++hour) out.emplace_back(hour, 1.0);
  return out;
}

std::vector<double> shares(const WatchedStay& stay) {
  std::vector<double> out;
  for (const auto& hour : stay.hours.along()) out.push_back(hour.flow.outside_share);
  return out;
}

/// Plans as people write them, for properties that hold whatever the weather.
const std::string kPlans[] = {
    R"(
arrive = 2027-11-12T14:00:00
[[camp]]
place = "port-angeles-wa"
nights = 5
canopy = 0.3
[battery]
capacity_wh = 3800
[inverter]
rated_w = 1000
on = [["08:00", "22:00"]]
[[panels]]
rated_w = 600
[[load]]
name = "terminal"
side = "ac"
watts = 45
between = ["08:00", "22:00"]
[[load]]
name = "lamp"
watts = 20
between = ["17:00", "23:00"]
varies = 0.4
hours_per_day = 5
[generator]
rated_w = 1600
charger_w = 500
allowed = [["08:30", "10:00"], ["17:00", "20:00"]]
)",
    R"(
arrive = 2027-01-15T12:00:00
[[camp]]
place = "aberdeen-sd"
nights = 4
[battery]
capacity_wh = 1600
where = "outside"
[[panels]]
rated_w = 300
mount = { tilt_deg = 65, azimuth_deg = 180 }
[[load]]
name = "radio"
watts = 40
[generator]
rated_w = 1000
charger_w = 400
allowed = [["10:00", "18:00"]]
)",
    R"(
arrive = 2027-06-15T12:00:00
[[camp]]
place = "bishop-ca"
nights = 6
canopy = 0.5
[battery]
capacity_wh = 1900
[inverter]
rated_w = 1500
on = [["18:00", "19:00"]]
[[panels]]
rated_w = 360
[[load]]
name = "fan"
watts = 25
[[load]]
name = "cooker"
side = "ac"
watts = 900
hours_per_day = 0.5
between = ["18:00", "19:00"]
[generator]
rated_w = 2000
charger_w = 300
allowed = [["07:00", "09:00"], ["18:00", "21:00"]]
)",
};

}  // namespace

TEST_CASE("below its charge the generator starts, and stops at the charge that it is told") {
  // 100 W against 400 W: the start at 300 Wh, the stop at 750 Wh, within the hour.
  PreparedPlan plan = simple_plan(1, 100.0, any_time());
  plan.generator->stop_at = 0.75;
  set_generator_rule(plan);
  const WatchedStay stay(plan, steady_sky(kNoSun));
  std::vector<double> expected(24, 0.0);
  expected[8] = 1.0;                  // 300 Wh are left at 7:00, not below it; 200 at 8:00
  expected[9] = 0.875;                // from 500 Wh
  expected[15] = expected[22] = 1.0;  // from 250 Wh each
  expected[16] = expected[23] = 0.75;
  const auto found = shares(stay);
  for (std::size_t h = 0; h < 24; ++h) {
    CAPTURE(h);
    CHECK(found[h] == Approx(expected[h]).margin(1e-6));
  }
  CHECK(stay.trace.along.generator_starts == 3);
  CHECK(stay.trace.along.generator_h == Approx(5.375));
  CHECK(stay.trace.along.charge[9] == Approx(0.75));
  CHECK_FALSE(stay.trace.along.ever_flat());
  CHECK(stay.trace.home.ever_flat());
  // 0.2 L an hour and 0.35 L for each kWh, the charger's loss included.
  CHECK(stay.trace.along.fuel_l == Approx(5.375 * (0.2 + 0.4 / 0.8 * 0.35)));
}

TEST_CASE("between its two charges the generator goes on if it ran and stays off if it did not") {
  PreparedPlan plan = simple_plan(1, 100.0, any_time());
  plan.battery.start_charge = 0.5;
  const auto off = shares(WatchedStay(plan, steady_sky(kNoSun)));
  CHECK(off[0] == 0.0);
  plan.battery.start_charge = 0.29;
  const auto on = shares(WatchedStay(plan, steady_sky(kNoSun)));
  CHECK(on[0] == 1.0);
  CHECK(on[1] == Approx(310.0 / 400.0));  // 590 Wh, to 800 against 100 of load
  CHECK(on[2] == 0.0);
}

TEST_CASE("alternating-current loads that the generator carries cost fuel too") {
  PreparedPlan plan = simple_plan(1, 0.0, any_time());
  plan.inverter = Inverter{1000.0, 0.0, 0.0, 0.0, {kWholeDay}};
  for (HourSlot& slot : plan.hours) {
    slot.inverter_on = 1.0;
    slot.fixed_ac_w = slot.hour_of_day == 0 ? 300.0 : 0.0;
  }
  plan.battery.start_charge = 0.0;
  plan.generator->stop_at = 0.4;
  set_generator_rule(plan);
  const WatchedStay stay(plan, steady_sky(kNoSun));
  CHECK(shares(stay)[0] == 1.0);
  CHECK(stay.trace.along.fuel_l == Approx(0.2 + (0.3 + 0.4 / 0.8) * 0.35));
}

TEST_CASE("the generator runs in allowed hours only, minutes pro rata") {
  PreparedPlan plan = simple_plan(2, 100.0, {{8, 0.5}, {9, 1.0}, {17, 0.25}});
  plan.battery.start_charge = 0.1;
  const auto found = shares(WatchedStay(plan, steady_sky(kNoSun)));
  for (std::size_t h = 0; h < found.size(); ++h) {
    CAPTURE(h);
    CHECK(found[h] == Approx(plan.hours[h].source_share));
  }
}

TEST_CASE("a generator that has started runs its least time, within its allowed hours") {
  PreparedPlan plan = simple_plan(1, 100.0, any_time());
  plan.battery.start_charge = 0.25;
  plan.generator->stop_at = 0.31;
  set_generator_rule(plan);
  CHECK(shares(WatchedStay(plan, steady_sky(kNoSun)))[0] < 0.5);
  plan.generator->min_run_h = 2.5;
  const WatchedStay stay(plan, steady_sky(kNoSun));
  const auto found = shares(stay);
  CHECK(found[0] == 1.0);
  CHECK(found[1] == 1.0);
  CHECK(found[2] == Approx(0.5));
  CHECK(found[3] == 0.0);
  // 250 + 2.5 x 400 - 3 x 100 Wh; 650 of them last 7 hours until it is below 300 again.
  CHECK(stay.trace.along.charge[2] == Approx(0.95));

  PreparedPlan short_window = simple_plan(1, 100.0, {{0, 1.0}, {1, 0.5}});
  short_window.battery.start_charge = 0.25;
  short_window.generator->stop_at = 0.31;
  set_generator_rule(short_window);
  short_window.generator->min_run_h = 12.0;
  const WatchedStay cut(short_window, steady_sky(kNoSun));
  CHECK(cut.trace.along.generator_h == Approx(1.5));
  CHECK(cut.trace.along.generator_starts == 1);
}

TEST_CASE("a generator leaves an hour at its level and keeps to its hours") {
  PreparedPlan plan = simple_plan(2, 40.0, {{17, 1.0}, {18, 1.0}});
  for (HourSlot& slot : plan.hours) slot.start_below_wh = slot.stop_at_wh = 700.0;
  const WatchedStay stay(plan, steady_sky(kNoSun));
  const auto found = shares(stay);
  // At 17:00 320 Wh are left: 360 more in the first hour, 20 + 40 Wh in the second.
  CHECK(found[17] == 1.0);
  CHECK(found[18] == Approx(60.0 / 400.0));
  CHECK(stay.trace.along.charge[18] == Approx(0.7));
  CHECK(stay.trace.along.generator_starts == 2);
  CHECK(found[17 + 24] == 1.0);
  for (std::size_t h = 0; h < found.size(); ++h) {
    if (plan.hours[h].source == Source::none) CHECK(found[h] == 0.0);
  }
}

TEST_CASE("a generator does not run when the battery holds enough") {
  PreparedPlan plan = simple_plan(1, 10.0, {{17, 1.0}, {18, 1.0}});
  plan.generator->min_run_h = 1.0;
  for (HourSlot& slot : plan.hours) slot.start_below_wh = slot.stop_at_wh = 700.0;
  const WatchedStay stay(plan, steady_sky(kNoSun));
  CHECK(stay.trace.along.generator_h == 0.0);
  CHECK(stay.trace.along.generator_starts == 0);
  CHECK(stay.trace.along.fuel_l == 0.0);
}

TEST_CASE("the least hours are the missing energy over the charger's power") {
  // 48 h x 40 W less 1,000 Wh: 920 Wh, 2.3 h of 400 W. Each shortage may be overfilled by 1 Wh.
  const PreparedPlan plan = simple_plan(2, 40.0, {{17, 1.0}, {18, 1.0}, {19, 1.0}});
  const auto least = WatchedStay(plan, steady_sky(kNoSun)).trace.least_generator_h;
  REQUIRE(least);
  CHECK(*least >= 2.3 - 1e-6);
  CHECK(*least <= 2.3 + 0.01);
}

TEST_CASE("the least hours take the sun that is coming into account") {
  // Between the two evenings the sun fills the battery: what is missing is missing at the end.
  PreparedPlan plan = simple_plan(3, 40.0, {{17, 1.0}, {18, 1.0}, {19, 1.0}});
  set_panels(plan, 12, 2000.0);
  const ScriptedSky sky([](std::uint32_t, std::span<SegmentSky> out) {
    out[0] = kNoSun;
    out[1] = mild_day(1.0);
    out[2] = kNoSun;
  });
  // Full at noon of the second day, 960 Wh last 24 hours from 13:00, 440 Wh are missing for the
  // other 11; the first day's 37 hours take 1,480 Wh, of which 480 (less an hour) must be made.
  const auto least = WatchedStay(plan, sky).trace.least_generator_h;
  REQUIRE(least);
  const double first_wh = 36.0 * 40.0 - 1000.0, last_wh = 35.0 * 40.0 - 1000.0;
  CHECK(*least >= (first_wh + last_wh) / 400.0 - 1e-6);
  CHECK(*least <= (first_wh + last_wh) / 400.0 + 0.01);
}

TEST_CASE("no least hours exist where all allowed ones do not suffice") {
  const PreparedPlan plan = simple_plan(2, 100.0, {{17, 1.0}});
  CHECK_FALSE(WatchedStay(plan, steady_sky(kNoSun)).trace.least_generator_h);
  // Nor where it is too cold to charge.
  PreparedPlan cold = simple_plan(2, 40.0, {{17, 1.0}, {18, 1.0}, {19, 1.0}});
  cold.battery.where = BatteryWhere::outside;
  CHECK_FALSE(WatchedStay(cold, steady_sky({0.0, -5.0, 0.0})).trace.least_generator_h);
}

TEST_CASE("no generator hour is needed exactly if the battery alone does not run flat") {
  for (const std::string& text : kPlans) {
    CAPTURE(text);
    const PreparedPlan plan = prepared_of(text);
    const DrawnSky sky(plan, 2);
    StayRunner runner(plan, sky, 2);
    int flat = 0;
    for (std::uint32_t stay = 0; stay < 500; ++stay) {
      const StayTrace& trace = runner.run(stay);
      const bool none = trace.least_generator_h && *trace.least_generator_h == 0.0;
      CHECK(none != trace.home.ever_flat());
      flat += trace.home.ever_flat();
    }
    CHECK(flat > 5);
    CHECK(flat < 500);
  }
}

TEST_CASE(
    "the least hours exceed those of a rule that saves the stay only by loads carried directly") {
  for (const std::string& text : kPlans) {
    CAPTURE(text);
    const PreparedPlan plan = prepared_of(text);
    const DrawnSky sky(plan, 2);
    StayRunner runner(plan, sky, 2);
    int compared = 0;
    double worst = 0.0, largest_ac_w = 0.0;
    for (const HourSlot& slot : plan.hours) {
      const double loss_w =
          plan.inverter ? plan.inverter->loss_w(slot.fixed_ac_w) - plan.inverter->standby_w : 0.0;
      largest_ac_w = std::max(largest_ac_w, slot.fixed_ac_w + loss_w);
    }
    for (std::uint32_t stay = 0; stay < 500; ++stay) {
      const StayTrace& trace = runner.run(stay);
      if (trace.along.ever_flat()) continue;
      REQUIRE(trace.least_generator_h);
      // Each of at most a dozen shortages may be overfilled by 1 Wh. The fill takes the latest
      // hours; a rule may run in one that also carries alternating-current loads and so brings more
      // than the charger alone does.
      const double rounding_h = 12.0 / plan.generator->charger_w;
      const double direct = (plan.generator->charger_w + largest_ac_w) / plan.generator->charger_w;
      CHECK(*trace.least_generator_h <= direct * trace.along.generator_h + rounding_h);
      worst = std::max(worst, *trace.least_generator_h - trace.along.generator_h);
      compared += trace.home.ever_flat();
    }
    CAPTURE(worst);
    CHECK(compared > 5);
  }
}

TEST_CASE("least hours exist exactly if running in all allowed hours keeps the stay from flat") {
  for (const std::string& text : kPlans) {
    CAPTURE(text);
    const PreparedPlan plan = prepared_of(text);
    PreparedPlan flat_out = plan;
    flat_out.generator->rule = GeneratorRule::below;
    flat_out.generator->start_below = flat_out.generator->stop_at = 1.0;
    flat_out.generator->min_run_h = 24.0;
    set_generator_rule(flat_out);
    const DrawnSky sky(plan, 3);
    StayRunner runner(plan, sky, 3), all_out(flat_out, sky, 3);
    for (std::uint32_t stay = 0; stay < 500; ++stay) {
      CAPTURE(stay);
      const bool exists = runner.run(stay).least_generator_h.has_value();
      CHECK(exists == !all_out.run(stay).along.ever_flat());
    }
  }
}

TEST_CASE("a generator that days on the mains interrupted begins anew") {
  // It must run for 3 h once started; the second day is on the mains.
  PreparedPlan plan = simple_plan(3, 10.0, {{12, 1.0}, {13, 1.0}});
  plan.generator->min_run_h = 3.0;
  plan.hookup_charger_w = 300.0;
  plan.battery.start_charge = 0.2;
  for (HourSlot& slot : plan.hours) {
    if (slot.day == 1) {
      slot.source = Source::mains;
      slot.source_share = 1.0;
    }
  }
  // The first day ends with the generator running, and it is allowed from the last day's first
  // hour.
  for (HourSlot& slot : plan.hours) {
    if (slot.day == 0) allow_generator(slot, slot.hour_of_day == 23 ? 1.0 : 0.0);
    if (slot.day == 2) allow_generator(slot, slot.hour_of_day < 6 ? 1.0 : 0.0);
  }
  set_generator_rule(plan);
  const WatchedStay stay(plan, steady_sky(kNoSun));
  double on_last_day_h = 0.0;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    if (plan.hours[h].day == 2) on_last_day_h += stay.hours.along()[h].flow.outside_share;
  }
  CHECK(stay.trace.along.generator_h > 0.0);
  CHECK(on_last_day_h == 0.0);  // the mains filled the battery
}

TEST_CASE("the generator of a camp on the mains stays off") {
  PreparedPlan plan = simple_plan(1, 100.0, any_time());
  plan.hookup_charger_w = 300.0;
  plan.battery.start_charge = 0.1;
  for (HourSlot& slot : plan.hours) {
    slot.source = Source::mains;
    slot.source_share = 1.0;
  }
  const WatchedStay stay(plan, steady_sky(kNoSun));
  CHECK(stay.trace.along.generator_h == 0.0);
  CHECK(stay.trace.along.fuel_l == 0.0);
  CHECK(stay.trace.along.charge == stay.trace.home.charge);
  CHECK(stay.trace.home.charge.back() == 1.0);
}

TEST_CASE("a plan without a generator has one track and no least hours") {
  PreparedPlan plan = simple_plan(1, 100.0, {});
  plan.generator.reset();
  const WatchedStay stay(plan, steady_sky(kNoSun));
  CHECK(stay.hours.tracks().size() == 1);
  CHECK(stay.trace.along.charge.empty());
  CHECK_FALSE(stay.trace.least_generator_h);
}

TEST_CASE("a runner's stays do not depend on those that it ran before") {
  const PreparedPlan plan = prepared_of(kPlans[0]);
  const DrawnSky sky(plan, 2);
  StayRunner runner(plan, sky, 2);
  runner.run(17);
  const StayTrace again = runner.run(5);
  const StayTrace fresh = StayRunner(plan, sky, 2).run(5);
  CHECK(again.home.charge == fresh.home.charge);
  CHECK(again.along.charge == fresh.along.charge);
  CHECK(again.least_generator_h == fresh.least_generator_h);
  CHECK(again.panels_wh == fresh.panels_wh);
  CHECK(again.along.fuel_l == fresh.along.fuel_l);
}

TEST_CASE("the risk alone is that of the whole stay, without the least generator hours") {
  const PreparedPlan plan = prepared_of(R"(
arrive = 2027-11-12T14:00:00
[[camp]]
place = "port-angeles-wa"
nights = 3
[battery]
capacity_wh = 800
[[panels]]
rated_w = 150
[[load]]
name = "radio"
watts = 30
[generator]
rated_w = 1000
charger_w = 300
allowed = [["17:00", "18:00"]]
)");
  const DrawnSky sky(plan, 4);
  StayRunner whole(plan, sky, 4), risk(plan, sky, 4, StayDetail::risk_only);
  int flat = 0;
  for (std::uint32_t stay = 0; stay < 60; ++stay) {
    const StayTrace& a = whole.run(stay);
    const StayTrace& b = risk.run(stay);
    CHECK(a.home.flat == b.home.flat);
    CHECK(a.home.charge == b.home.charge);
    CHECK(a.along.flat == b.along.flat);
    CHECK(a.along.generator_h == b.along.generator_h);
    CHECK_FALSE(b.least_generator_h.has_value());
    flat += a.home.ever_flat();
  }
  CHECK(flat > 5);
}

}  // namespace dullspell::stay_test
