#include <string>

#include <catch2/catch.hpp>

#include "tests/support/engine_balance.hpp"
#include "tests/support/engine_plan.hpp"

using namespace dullspell;

// Energy is conserved in every hour of every stay, whatever a plan combines.

namespace {

struct NamedPlan {
  const char* name;
  const char* text;
};

constexpr NamedPlan kPlans[] = {
    {"a box and a lamp, no panels", R"(
arrive = 2027-07-02T12:00:00
[[camp]]
place = "bishop-ca"
nights = 3
[battery]
capacity_wh = 500
[[load]]
name = "lamp"
watts = 15
between = ["19:00", "01:30"]
)"},
    {"panels on two mounts with one limit, varying and optional loads", R"(
arrive = 2027-05-21T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 5
canopy = 0.3
skyline = [{ from_deg = 60, to_deg = 300, height_deg = 25, lets_through = 0.1 }]
[battery]
chemistry = "nmc"
capacity_ah = 100
nominal_v = 12.8
health = 0.8
start_charge = 0.6
[inverter]
rated_w = 600
on = [["07:00", "22:15"]]
[[controller]]
name = "shared"
limit_w = 220
[[panels]]
rated_w = 200
controller = "shared"
[[panels]]
rated_w = 200
mount = { aimed_at = ["09:00", "15:00"] }
controller = "shared"
dull_light = "poor"
[[load]]
name = "standby"
amps = 0.7
[[load]]
name = "laptop"
side = "ac"
watts = 55
hours_per_day = 4
between = ["09:00", "23:00"]
varies = 0.4
dull_day_factor = 1.6
optional_below = 0.3
[[load]]
name = "pump"
watts = 60
hours_per_day = 0.5
varies = 0.8
)"},
    {"generator before the night, furnace and fridge", R"(
arrive = 2027-11-12T14:00:00
[[camp]]
place = "port-angeles-wa"
nights = 6
canopy = 0.4
[battery]
capacity_wh = 1200
[inverter]
rated_w = 1000
standby_w = 12
[[panels]]
rated_w = 300
[[load]]
name = "terminal"
side = "ac"
watts = 60
between = ["07:00", "23:00"]
[fridge]
running_w = 50
side = "ac"
[furnace]
blower_w = 40
output_w = 4000
heat_loss_w_per_k = 120
hold_c = [{ from = "21:30", to = "07:00", c = 14 }, { from = "07:00", to = "21:30", c = 8 }]
[generator]
rated_w = 1600
charger_w = 500
allowed = [["08:30", "10:00"], ["17:00", "20:00"]]
)"},
    {"generator below a charge, too small for its loads", R"(
arrive = 2027-12-20T10:00:00
[[camp]]
place = "bishop-ca"
nights = 5
[battery]
capacity_wh = 2000
where = "outside"
charge_limit_w = 600
[inverter]
rated_w = 1500
efficiency_at = [[0.1, 0.85], [0.5, 0.92], [1.0, 0.88]]
[[panels]]
rated_w = 150
mount = { tilt_deg = 60, azimuth_deg = 200 }
[[load]]
name = "kettle"
side = "ac"
watts = 1400
hours_per_day = 0.5
between = ["07:00", "08:00"]
[[load]]
name = "trailer"
side = "dc-via-ac"
watts = 40
[converter]
efficiency = 0.8
standby_w = 6
[generator]
rated_w = 700
charger_w = 600
rule = "below"
start_below = 0.4
stop_at = 0.75
min_run_h = 2
allowed = [["07:00", "22:00"]]
)"},
    {"two camps, a drive that charges, a night on the mains", R"(
arrive = 2027-03-10T16:00:00
leave = "10:00"
summer_time = true
[[camp]]
place = "phoenix-az"
nights = 2
[[camp]]
place = "bishop-ca"
nights = 1
drive_in_h = 3.5
hookup = true
[[camp]]
place = { latitude = 37.9, longitude = -119.0 }
nights = 3
elevation_m = 2200
drive_in_h = 1.25
[battery]
capacity_wh = 900
[inverter]
rated_w = 800
[vehicle]
charge_w = 250
[hookup]
charger_w = 300
[[panels]]
rated_w = 160
[[load]]
name = "always"
watts = 30
[[load]]
name = "cooker"
side = "ac"
watts = 700
hours_per_day = 1
between = ["17:00", "19:00"]
[generator]
rated_w = 1000
charger_w = 400
allowed = [["09:00", "11:00"], ["16:00", "19:00"]]
)"},
    {"a battery outside in deep cold", R"(
arrive = 2027-01-08T12:00:00
[[camp]]
place = "aberdeen-sd"
nights = 6
[battery]
capacity_wh = 3000
where = "outside"
[[panels]]
rated_w = 400
mount = { tilt_deg = 65, azimuth_deg = 180 }
[[load]]
name = "radio"
watts = 25
[generator]
rated_w = 1000
charger_w = 500
allowed = [["10:00", "18:00"]]
)"},
    {"a self-heating battery outside, held at frost by the furnace's cabin", R"(
arrive = 2027-02-01T12:00:00
[[camp]]
place = "aberdeen-sd"
nights = 4
[battery]
capacity_wh = 1500
where = "outside"
charge_min_c = -30
[[panels]]
rated_w = 250
[furnace]
blower_w = 60
output_w = 5000
heat_loss_w_per_k = 150
gains_w = 100
other_heat_c = 5
hold_c = [{ from = "18:00", to = "08:30", c = 0 }]
)"},
    {"a battery inside that freezes once the furnace stops", R"(
arrive = 2027-01-20T12:00:00
[[camp]]
place = "aberdeen-sd"
nights = 4
[battery]
capacity_wh = 700
start_charge = 0.9
self_discharge_per_month = 0.3
[[panels]]
rated_w = 500
mount = { tilt_deg = 60, azimuth_deg = 180 }
[furnace]
blower_w = 50
output_w = 6000
heat_loss_w_per_k = 130
hold_c = [{ from = "00:00", to = "24:00", c = 12 }]
)"},
    {"a limited battery with more asked than it gives", R"(
arrive = 2027-08-01T12:00:00
[[camp]]
place = "tucson-az"
nights = 2
[battery]
capacity_wh = 2000
discharge_limit_w = 300
charge_limit_c_rate = 0.1
taper_from = 0.6
taper_to_c_rate = 0.02
[inverter]
rated_w = 400
[[panels]]
rated_w = 800
controller_limit_w = 350
[[load]]
name = "cooling"
side = "ac"
watts = 500
between = ["13:00", "18:00"]
[[load]]
name = "freezer"
watts = 60
optional_below = 0.5
)"},
    {"high summer beyond the polar circle", R"(
arrive = 2027-06-20T00:00:00
leave = "24:00"
[[camp]]
nights = 2
[camp.place]
latitude = 70
longitude = 25
utc_offset_h = 2
ghi_kwh_m2 = [0.02, 0.3, 1.3, 3.2, 4.8, 5.4, 4.9, 3.2, 1.7, 0.5, 0.05, 0]
temp_mean_c = [-10, -10, -7, -2, 4, 9, 12, 11, 7, 1, -5, -8]
[battery]
capacity_wh = 600
[[panels]]
rated_w = 120
mount = { aimed_at = ["06:00", "12:00", "18:00"] }
[fridge]
running_w = 40
duty_at = [[5, 0.1], [35, 0.7]]
)"},
    {"nothing but the night and the mains", R"(
arrive = 2027-12-24T18:00:00
leave = "00:00"
[[camp]]
place = "port-angeles-wa"
nights = 1
hookup = true
[battery]
capacity_wh = 400
start_charge = 0
[hookup]
charger_w = 50
[inverter]
rated_w = 300
[[load]]
name = "heater"
side = "ac"
watts = 250
)"},
    {"a generator that may run round the clock", R"(
arrive = 2027-10-10T09:00:00
[[camp]]
place = "crescent-city-ca"
nights = 4
[battery]
capacity_wh = 300
start_charge = 0
[[panels]]
rated_w = 100
[[load]]
name = "always"
watts = 70
[generator]
rated_w = 500
charger_w = 120
min_run_h = 0
allowed = [["00:00", "24:00"]]
)"},
};

}  // namespace

TEST_CASE("energy is conserved in every hour of every stay of a dozen plans") {
  for (const NamedPlan& named : kPlans) {
    CAPTURE(named.name);
    const PreparedPlan plan = prepared_of(named.text);
    const DrawnSky sky(plan, 4);
    for (std::uint32_t stay = 0; stay < 60; ++stay) {
      CAPTURE(stay);
      const WatchedStay watched(plan, sky, stay, 4);
      REQUIRE(watched.hours.tracks().size() == (plan.generator ? 2 : 1));
      for (std::size_t track = 0; track < watched.hours.tracks().size(); ++track) {
        CAPTURE(track);
        const auto& hours = watched.hours.tracks()[track];
        REQUIRE(hours.size() == plan.hours.size());
        double stored_wh = plan.battery.start_charge * plan.usable_wh();
        for (std::size_t h = 0; h < hours.size(); ++h) {
          CAPTURE(h);
          const auto& [needs, flow] = hours[h];
          OutsidePower outside;
          if (plan.hours[h].source == Source::mains) {
            outside.charger_w = plan.hookup_charger_w;
          } else if (track == 1) {
            outside.charger_w = plan.generator->charger_w;
            outside.ac_limit_w = plan.generator->rated_w;
            outside.charger_efficiency = plan.generator->charger_efficiency;
          }
          check_balance(plan.battery, needs, outside, flow);
          REQUIRE(flow.stored_before_wh == stored_wh);
          stored_wh = flow.stored_after_wh;
        }
      }
    }
  }
}

TEST_CASE("what a stay's trace says is the sum of its hours") {
  for (const NamedPlan& named : kPlans) {
    CAPTURE(named.name);
    const PreparedPlan plan = prepared_of(named.text);
    const WatchedStay watched(plan, DrawnSky(plan, 9), 3, 9);
    for (std::size_t track = 0; track < watched.hours.tracks().size(); ++track) {
      const TrackTrace& trace = track == 0 ? watched.trace.home : watched.trace.along;
      double demand = 0.0, shortfall = 0.0, spilled = 0.0, generator_h = 0.0;
      const auto& hours = watched.hours.tracks()[track];
      for (std::size_t h = 0; h < hours.size(); ++h) {
        const auto& [needs, flow] = hours[h];
        demand += needs.dc_w + needs.ac_w;
        shortfall += flow.shortfall_wh;
        spilled += flow.spilled_wh;
        if (plan.hours[h].source != Source::mains) generator_h += flow.outside_share;
        CHECK(trace.charge[h] == flow.stored_after_wh * (1.0 / plan.usable_wh()));
        CHECK(trace.flat[h] == (flow.flat ? 1 : 0));
      }
      CHECK(trace.demand_wh == Approx(demand));
      CHECK(trace.shortfall_wh == Approx(shortfall).margin(1e-9));
      CHECK(trace.spilled_wh == Approx(spilled).margin(1e-9));
      CHECK(trace.generator_h == Approx(generator_h).margin(1e-12));
    }
  }
}

TEST_CASE("a stay with the generator at home and one with it along see the same weather") {
  int plans = 0, differ = 0;
  for (const NamedPlan& named : kPlans) {
    const PreparedPlan plan = prepared_of(named.text);
    if (!plan.generator) continue;
    CAPTURE(named.name);
    ++plans;
    const WatchedStay watched(plan, DrawnSky(plan, 6), 1, 6);
    for (std::size_t h = 0; h < plan.hours.size(); ++h) {
      const auto& home = watched.hours.home()[h];
      const auto& along = watched.hours.along()[h];
      CHECK(home.needs.panels_w == along.needs.panels_w);
      CHECK(home.needs.vehicle_w == along.needs.vehicle_w);
      CHECK(home.needs.dc_w == along.needs.dc_w);  // none of these plans has optional loads
      CHECK(home.needs.ac_w == along.needs.ac_w);
      differ += home.flow.stored_after_wh != along.flow.stored_after_wh;
    }
  }
  CHECK(plans == 5);
  CHECK(differ > 100);
}
