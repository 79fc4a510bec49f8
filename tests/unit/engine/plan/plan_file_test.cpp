#include <string>
#include <utility>
#include <vector>

#include <catch2/catch.hpp>

#include "engine/plan/plan_file.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/input_text.hpp"

namespace dullspell::plan_file_test {

using Catch::Matchers::Contains;
using Catch::Matchers::Equals;

namespace {

const std::string kTop = "arrive = 2027-05-21T15:00:00\n";
const std::string kCamp = "[[camp]]\nplace = \"bishop-ca\"\nnights = 2\n";
const std::string kBattery = "[battery]\ncapacity_wh = 1000\n";
const std::string kInverter = "[inverter]\nrated_w = 500\n";
const std::string kLoad = "[[load]]\nname = \"lamp\"\nwatts = 5\n";
const std::string kFurnace =
    "[furnace]\nblower_w = 40\noutput_w = 5000\nheat_loss_w_per_k = 100\n"
    "hold_c = [{ from = \"22:00\", to = \"07:00\", c = 14 }]\n";
const std::string kGenerator =
    "[generator]\nrated_w = 1000\ncharger_w = 400\nallowed = [[\"08:00\", \"10:00\"]]\n";

/// The least plan, with more keys in its parts.
struct Text {
  std::string top{}, camp{}, battery{}, load{}, tables{};

  std::string whole() const {
    return kTop + top + kCamp + camp + kBattery + battery + tables + kLoad + load;
  }
};

Plan with(const Text& text) {
  return plan_of(text.whole());
}

std::string error_of(const std::string& text) {
  return message_of([&] { plan_of(text); });
}

}  // namespace

TEST_CASE("the least plan is a place, a battery and a load; the rest has defaults") {
  const Plan plan = with({});
  CHECK(plan.file == "plan.toml");
  CHECK(plan.title.empty());
  CHECK(iso_date(plan.arrive) == "2027-05-21");
  CHECK(plan.arrive_hour == 15);
  CHECK(plan.leave_hour == 11);
  CHECK(plan.accept_risk == 0.10);
  CHECK_FALSE(plan.summer_time_stated);
  CHECK(plan.summer_time);  // California in May
  CHECK(plan.clock_offset_h == -7.0);
  CHECK(plan.nights() == 2);
  CHECK(plan.notes.empty());

  REQUIRE(plan.camps.size() == 1);
  CHECK(plan.camps[0].place.id == "bishop-ca");
  CHECK(plan.camps[0].canopy == 0.0);
  CHECK(plan.camps[0].skyline.empty());
  CHECK(plan.camps[0].drive_in_h == 0.0);
  CHECK_FALSE(plan.camps[0].hookup);
  CHECK_FALSE(plan.camps[0].elevation_m);

  const Battery& b = plan.battery;
  CHECK(b.chemistry == "lfp");
  CHECK(b.capacity_wh == 1000.0);
  CHECK(b.health == 1.0);
  CHECK(b.usable_share == 1.0);
  CHECK(b.start_charge == 1.0);
  CHECK(b.charge_efficiency == 0.98);
  CHECK(b.discharge_efficiency == 0.98);
  CHECK(b.charge_limit_w == 500.0);
  CHECK(b.discharge_limit_w == 1000.0);
  CHECK(b.taper_from == 0.95);
  CHECK(b.taper_to_c_rate == 0.10);
  CHECK(b.charge_min_c == 0.0);
  CHECK(b.self_discharge_per_month == 0.02);
  CHECK(b.where == BatteryWhere::inside);

  CHECK_FALSE(plan.inverter);
  CHECK(plan.panels.empty());
  CHECK(plan.controllers.empty());
  CHECK_FALSE(plan.furnace);
  CHECK_FALSE(plan.fridge);
  CHECK_FALSE(plan.generator);
  CHECK(plan.hookup_charger_w == 0.0);
  CHECK(plan.vehicle_charge_w == 0.0);

  REQUIRE(plan.loads.size() == 1);
  CHECK(plan.loads[0].side == LoadSide::dc);
  CHECK(plan.loads[0].watts == 5.0);
  CHECK(plan.loads[0].hours_per_day == 24.0);
  CHECK_FALSE(plan.loads[0].hours_stated);
  CHECK(plan.loads[0].varies == 0.0);
  CHECK(plan.loads[0].dull_day_factor == 1.0);
  CHECK_FALSE(plan.loads[0].optional_below);
}

TEST_CASE("every key of the stay and its camps is read") {
  const Plan plan = plan_of(R"(
title = "A trip"
arrive = 2027-05-21T09:00:00
leave = "10:00"
accept_risk = 0.25
summer_time = true
[[camp]]
place = { latitude = 37.5, longitude = -118.6 }
nights = 3
canopy = 0.4
drive_in_h = 1.5
hookup = true
elevation_m = 2100
skyline = [{ from_deg = 300, to_deg = 400, height_deg = 20, lets_through = 0.1 }]
[[camp]]
place = "phoenix-az"
nights = 1
[hookup]
charger_w = 350
[vehicle]
charge_w = 240
[battery]
chemistry = "nmc"
capacity_ah = 100
nominal_v = 12.8
health = 0.9
usable_share = 0.8
start_charge = 0.7
charge_efficiency = 0.95
discharge_efficiency = 0.94
charge_limit_c_rate = 0.25
discharge_limit_w = 700
taper_from = 0.8
taper_to_c_rate = 0.05
charge_min_c = -5
self_discharge_per_month = 0.03
where = "outside"
[[load]]
name = "lamp"
amps = 2
hours_per_day = 3
between = [["18:00", "22:00"], ["06:00", "07:30"]]
away = ["19:00", "20:00"]
varies = 0.3
dull_day_factor = 1.4
optional_below = 0.2
)");
  CHECK(plan.title == "A trip");
  CHECK(plan.arrive_hour == 9);
  CHECK(plan.leave_hour == 10);
  CHECK(plan.accept_risk == 0.25);
  CHECK(plan.clock_offset_h == -7.0);
  CHECK(plan.nights() == 4);
  const Camp& camp = plan.camps.at(0);
  CHECK(camp.place.record == RecordKind::blended);
  CHECK(camp.where.latitude_deg == 37.5);
  CHECK(camp.nights == 3);
  CHECK(camp.canopy == 0.4);
  CHECK(camp.drive_in_h == 1.5);
  CHECK(camp.hookup);
  CHECK(camp.elevation_m == 2100.0);
  REQUIRE(camp.skyline.size() == 1);
  CHECK(camp.skyline[0].from_deg == 300.0);
  CHECK(camp.skyline[0].to_deg == 400.0);
  CHECK(camp.skyline[0].height_deg == 20.0);
  CHECK(camp.skyline[0].lets_through == 0.1);
  CHECK(plan.camps.at(1).place.id == "phoenix-az");
  CHECK(plan.hookup_charger_w == 350.0);
  CHECK(plan.vehicle_charge_w == 240.0);

  const Battery& b = plan.battery;
  CHECK(b.chemistry == "nmc");
  CHECK(b.capacity_wh == Approx(1280.0));
  CHECK(b.usable_wh() == Approx(1280.0 * 0.9 * 0.8));
  CHECK(b.start_charge == 0.7);
  CHECK(b.charge_efficiency == 0.95);
  CHECK(b.discharge_efficiency == 0.94);
  CHECK(b.charge_limit_w == Approx(0.25 * 1280.0 * 0.9));
  CHECK(b.discharge_limit_w == 700.0);
  CHECK(b.taper_from == 0.8);
  CHECK(b.taper_to_c_rate == 0.05);
  CHECK(b.charge_min_c == -5.0);
  CHECK(b.self_discharge_per_month == 0.03);
  CHECK(b.where == BatteryWhere::outside);

  const Load& load = plan.loads.at(0);
  CHECK(load.watts == Approx(25.6));
  CHECK(load.hours_per_day == 3.0);
  CHECK(load.hours_stated);
  int minutes = 0;
  for (const ClockWindow& w : load.between) minutes += w.length_min();
  CHECK(minutes == 90 + 240 - 60);
  CHECK(load.varies == 0.3);
  CHECK(load.dull_day_factor == 1.4);
  CHECK(load.optional_below == 0.2);
}

TEST_CASE("every key of the kit is read") {
  const Plan plan = with({.tables = R"(
[inverter]
rated_w = 800
standby_w = 9
efficiency_at = [[0.2, 0.88]]
on = [["07:00", "23:00"]]
[converter]
efficiency = 0.9
standby_w = 2
[[controller]]
name = "roof"
limit_w = 300
[[panels]]
name = "left"
rated_w = 200
controller = "roof"
[[panels]]
rated_w = 100
mount = { tilt_deg = 30, azimuth_deg = 150 }
losses = 0.2
dull_light = "poor"
controller_limit_w = 90
[[panels]]
rated_w = 50
mount = { aimed_at = ["14:00", "09:30"] }
[furnace]
blower_w = 40
output_w = 4000
heat_loss_w_per_k = 110
gains_w = 80
other_heat_c = 12
hold_c = [{ from = "22:00", to = "07:00", c = 14 }, { from = "18:00", to = "22:00", c = 0 }]
[fridge]
running_w = 45
duty_at = [[10, 0.1], [30, 0.4]]
side = "ac"
[generator]
rated_w = 2000
charger_w = 600
charger_efficiency = 0.9
rule = "below"
start_below = 0.25
stop_at = 0.7
min_run_h = 2
allowed = [["08:00", "10:00"], ["17:30", "20:00"]]
fuel_l_per_h_idle = 0.3
fuel_l_per_kwh = 0.4
tank_l = 4
)"});
  REQUIRE(plan.inverter);
  CHECK(plan.inverter->rated_w == 800.0);
  CHECK(plan.inverter->standby_w == 9.0);
  CHECK(plan.inverter->efficiency(160.0) == Approx(0.88));
  REQUIRE(plan.inverter->on.size() == 1);
  CHECK(plan.inverter->on[0].from_min == 420);
  CHECK(plan.converter.efficiency == 0.9);
  CHECK(plan.converter.standby_w == 2.0);

  REQUIRE(plan.panels.size() == 3);
  CHECK(plan.panels[0].name == "left");
  CHECK(plan.controllers.at(plan.panels[0].controller).limit_w == 300.0);
  CHECK(std::get<PlaneDirection>(plan.panels[0].mount).tilt_deg == 0.0);
  CHECK(plan.panels[0].losses == 0.10);
  CHECK(plan.panels[0].dull_light == DullLight::usual);
  CHECK(plan.panels[1].rated_w == 100.0);
  CHECK(std::get<PlaneDirection>(plan.panels[1].mount).tilt_deg == 30.0);
  CHECK(std::get<PlaneDirection>(plan.panels[1].mount).azimuth_deg == 150.0);
  CHECK(plan.panels[1].losses == 0.2);
  CHECK(plan.panels[1].dull_light == DullLight::poor);
  CHECK(plan.controllers.at(plan.panels[1].controller).limit_w == 90.0);
  CHECK(std::get<AimedMount>(plan.panels[2].mount).at_min == std::vector<int>{570, 840});
  CHECK(plan.controllers.at(plan.panels[2].controller).limit_w == kNoLimit_w);

  REQUIRE(plan.furnace);
  CHECK(plan.furnace->blower_w == 40.0);
  CHECK(plan.furnace->output_w == 4000.0);
  CHECK(plan.furnace->heat_loss_w_per_k == 110.0);
  CHECK(plan.furnace->gains_w == 80.0);
  CHECK(plan.furnace->other_heat_c == 12.0);
  REQUIRE(plan.furnace->hold.size() == 2);
  CHECK(plan.furnace->hold[0].set_point_c == 14.0);
  CHECK(plan.furnace->hold[1].window.from_min == 1080);
  CHECK(plan.furnace->hold[1].set_point_c == 0.0);

  REQUIRE(plan.fridge);
  CHECK(plan.fridge->running_w == 45.0);
  CHECK(plan.fridge->duty_at == std::vector<std::pair<double, double>>{{10, 0.1}, {30, 0.4}});
  CHECK(plan.fridge->side == LoadSide::ac);

  REQUIRE(plan.generator);
  const Generator& g = *plan.generator;
  CHECK(g.rated_w == 2000.0);
  CHECK(g.charger_w == 600.0);
  CHECK(g.charger_efficiency == 0.9);
  CHECK(g.rule == GeneratorRule::below);
  CHECK(g.start_below == 0.25);
  CHECK(g.stop_at == 0.7);
  CHECK(g.min_run_h == 2.0);
  REQUIRE(g.allowed.size() == 2);
  CHECK(g.allowed[1].from_min == 1050);
  CHECK(g.fuel_l_per_h_idle == 0.3);
  CHECK(g.fuel_l_per_kwh == 0.4);
  CHECK(g.tank_l == 4.0);
  CHECK(plan.hookup_charger_w == 600.0);  // the generator's charger, as none is stated
}

TEST_CASE("what is known of the sky and since when a stay is under way is read") {
  const Plan none = with({});
  CHECK(none.forecast.empty());
  CHECK_FALSE(none.yesterday);
  CHECK_FALSE(none.now);
  CHECK(none.start().day == 0);
  CHECK(none.start().hour_of_day == 15);

  const Plan plan = with({.top = "yesterday = \"overcast\"\n",
                          .tables = "[[forecast]]\nday = 2\nk = 0.55\nk_spread = 0.07\n"
                                    "[[forecast]]\ndate = 2027-05-21\nsky = \"clear\"\n"
                                    "[[forecast]]\ndate = 2027-05-23\nk = 0.3\n"});
  CHECK(std::get<SkyWord>(*plan.yesterday) == SkyWord::overcast);
  REQUIRE(plan.forecast.size() == 3);  // in order of days
  CHECK(plan.forecast[0].day == 0);
  CHECK(std::get<SkyWord>(plan.forecast[0].sky) == SkyWord::clear);
  CHECK(plan.forecast[1].day == 1);
  CHECK(std::get<StatedClearness>(plan.forecast[1].sky).k == 0.55);
  CHECK(std::get<StatedClearness>(plan.forecast[1].sky).k_spread == 0.07);
  CHECK(plan.forecast[2].day == 2);
  CHECK(std::get<StatedClearness>(plan.forecast[2].sky).k_spread == 0.10);
  CHECK(plan.notes.empty());

  const Plan under_way = with({.top = "now = 2027-05-22T09:00:00\nyesterday = 0.6\n",
                               .battery = "start_charge = 0.55\n",
                               .tables = "[[forecast]]\nday = 2\nsky = \"mixed\"\n"});
  CHECK(under_way.start().day == 1);
  CHECK(under_way.start().hour_of_day == 9);
  CHECK(std::get<StatedClearness>(*under_way.yesterday).k == 0.6);
  CHECK(under_way.notes.empty());
}

TEST_CASE("forecasts and a present that a plan cannot have are refused with a cure") {
  const std::string day = "[[forecast]]\n";
  const auto late = [](const std::string& forecast) {
    return Text{.top = "now = 2027-05-22T09:00:00\n", .tables = forecast};
  };
  const std::pair<Text, std::pair<const char*, const char*>> bad[] = {
      {{.top = "now = 2027-05-21T14:00:00\n"}, {"now is 2027-05-21T14", "Leave it out before"}},
      {{.top = "now = 2027-05-23T11:00:00\n"}, {"now is 2027-05-23T11", "to before 2027-05-23T11"}},
      {{.top = "now = 2028-05-23T11:00:00\n"}, {"now is 2028", "the plan's stay"}},
      {{.top = "now = 2027-05-22T09:30:00\n"}, {"now is 09:30", "a whole hour"}},
      {{.top = "now = 2027-05-22T09:00:00\n"},
       {"battery.start_charge is missing, and `now` is given", "display shows at `now`"}},
      {{.top = "now = 2027-05-22\n"}, {"now is a date", "a local date and time"}},
      {{.top = "now = \"noon\"\n"}, {"now is the text", "a local date and time"}},
      {{.top = "yesterday = \"overcats\"\n"}, {"yesterday is \"overcats\"", "overcast"}},
      {{.top = "yesterday = 1.2\n"}, {"yesterday is 1.2", "0 to 0.85"}},
      {{.top = "yesterday = nan\n"}, {"yesterday is nan", "0 to 0.85"}},
      {{.top = "yesterday = true\n"}, {"yesterday is true", "\"clear\", \"mixed\""}},
      {{.tables = "[forecast]\nday = 1\nk = 0.5\n"},
       {"forecast is a single table", "[[forecast]]"}},
      {{.tables = day + "sky = \"clear\"\n"}, {"forecast[1].date is missing", "day = 1"}},
      {{.tables = day + "day = 1\ndate = 2027-05-21\n"}, {"forecast[1].day is given", "one of"}},
      {{.tables = day + "day = 0\n"}, {"forecast[1].day is 0", "1 to 3"}},
      {{.tables = day + "day = 1.5\n"}, {"forecast[1].day is 1.5", "whole number"}},
      {{.tables = day + "day = 4\n"}, {"forecast[1].day is 4", "Day 1 is the date of arrival"}},
      {{.tables = day + "date = 2027-05-20\n"}, {"forecast[1].date is 2027-05-20", "of the stay"}},
      {{.tables = day + "date = 2027-05-24\n"},
       {"forecast[1].date is 2027-05-24", "2027-05-21 to 2027-05-23"}},
      {{.tables = day + "date = \"May\"\n"}, {"forecast[1].date is the text", "2027-05-22"}},
      {late(day + "date = 2027-05-21\nk = 0.5\n"),
       {"forecast[1].date is 2027-05-21", "past: take it out; `yesterday`"}},
      {late(day + "day = 1\nk = 0.5\n"), {"forecast[1].day is 1, which is 2027-05-21", "past"}},
      {{.tables = day + "day = 2\nk = 0.5\n" + day + "date = 2027-05-22\nk = 0.5\n"},
       {"forecast[2].date is 2027-05-22 a second time", "one [[forecast]] for each date"}},
      {{.tables = day + "day = 1\n"}, {"forecast[1].sky is missing", "or a number k"}},
      {{.tables = day + "day = 1\nsky = \"clear\"\nk = 0.5\n"},
       {"forecast[1].k is given", "one of"}},
      {{.tables = day + "day = 1\nsky = \"cleer\"\n"},
       {"forecast[1].sky is \"cleer\"", "\"clear\"?"}},
      {{.tables = day + "day = 1\nsky = 0.5\n"}, {"forecast[1].sky is 0.5", "text"}},
      {{.tables = day + "day = 1\nk = 55\n"}, {"forecast[1].k is 55", "0 to 0.85"}},
      {{.tables = day + "day = 1\nk = nan\n"}, {"forecast[1].k is nan", "0 to 0.85"}},
      {{.tables = day + "day = 1\nk = \"dull\"\n"}, {"forecast[1].k is the text", "a dull one"}},
      {{.tables = day + "day = 1\nk = 0.5\nk_spread = -0.1\n"},
       {"forecast[1].k_spread is", "0 to 0.5"}},
      {{.tables = day + "day = 1\nk = 0.5\nk_spread = inf\n"},
       {"forecast[1].k_spread is", "0 to 0.5"}},
      {{.tables = day + "day = 1\nsky = \"clear\"\nk_spread = 0.1\n"},
       {"forecast[1].k_spread is given without k", "A word has a spread"}},
      {{.tables = day + "day = 1\nk = 0.5\nspread = 0.1\n"},
       {"forecast[1].spread is not a known key", "k_spread"}},
      {{.top = "yesteday = \"clear\"\n"}, {"yesteday is not a known key", "yesterday"}},
  };
  for (const auto& [text, says] : bad) {
    const std::string whole = text.whole();
    CAPTURE(whole);
    const std::string message = error_of(whole);
    CHECK_THAT(message, Contains(": " + std::string(says.first)));
    CHECK_THAT(message, Contains(says.second));
  }
}

TEST_CASE("the first 14 days that are simulated may be forecast, no later one") {
  const auto text = [](int day, const std::string& top = "") {
    return kTop + top + "[[camp]]\nplace = \"bishop-ca\"\nnights = 30\n" + kBattery +
           "start_charge = 1\n[[forecast]]\nday = " + std::to_string(day) + "\nk = 0.5\n" + kLoad;
  };
  CHECK(plan_of(text(14)).forecast[0].day == 13);
  CHECK_THAT(error_of(text(15)), Contains("forecast[1].day is 15, which is 2027-06-04") &&
                                     Contains("2027-05-21 to 2027-06-03, the first 14 days") &&
                                     Contains("to the place's statistics"));
  const std::string now = "now = 2027-05-31T08:00:00\n";  // day 11
  CHECK(plan_of(text(24, now)).forecast[0].day == 23);
  CHECK_THAT(error_of(text(25, now)), Contains("2027-05-31 to 2027-06-13"));
}

TEST_CASE("settings change a plan before it is checked, and are kept") {
  const auto read = [](const std::vector<std::string>& settings) {
    return parse_plan({"plan.toml", Text{}.whole()}, PlaceCatalogue::built_in(), settings);
  };
  const Plan plan = read({"now=2027-05-22T09:00:00", "battery.start_charge=0.55",
                          "camp[1].canopy=0.3", "forecast[1].day=2", "forecast[1].sky=overcast"});
  CHECK(plan.start().day == 1);
  CHECK(plan.battery.start_charge == 0.55);
  CHECK(plan.camps[0].canopy == 0.3);
  CHECK(plan.forecast.size() == 1);
  CHECK(plan.settings.size() == 5);
  CHECK(plan.settings[1] == "battery.start_charge=0.55");
  CHECK(message_of([&] { read({"battery.start_charge=55"}); }) ==
        "command line: --set battery.start_charge=55: battery.start_charge is 55; allowed: 0 to 1\n"
        "  What the box's display shows on arrival, or now, as a share: 0.85. Did you mean 0.55 "
        "or \"55 %\"?\n");
  CHECK_THAT(message_of([&] { read({"battery.strat_charge=0.5"}); }),
             Contains("battery.strat_charge is not a known key\n  Did you mean `start_charge`?"));
}

TEST_CASE("a capacity that is set stands in place of the file's in the other unit") {
  const auto read = [](const std::string& battery, const std::string& setting) {
    return parse_plan({"plan.toml", kTop + kCamp + "[battery]\n" + battery + kLoad},
                      PlaceCatalogue::built_in(), {setting})
        .battery.capacity_wh;
  };
  const std::string ah = "capacity_ah = 80\nnominal_v = 12.8\n";
  CHECK(read(ah, "battery.capacity_wh=900") == 900.0);
  CHECK(read(ah, "battery.capacity_ah=100") == Approx(1280.0));
  CHECK(read("capacity_wh = 700\nnominal_v = 12.8\n", "battery.capacity_ah=100") == Approx(1280.0));
}

TEST_CASE("kit that is only named has the usual details") {
  const Plan plan = with({.tables = kInverter + kGenerator + "[fridge]\nrunning_w = 50\n"});
  CHECK(plan.inverter->standby_w == 12.0);
  CHECK(plan.inverter->on.at(0).length_min() == 1440);
  CHECK(plan.inverter->efficiency(250.0) == Approx(0.90).margin(0.03));
  CHECK(plan.fridge->duty_at.size() == 3);
  CHECK(plan.generator->rule == GeneratorRule::night);
  CHECK(plan.generator->charger_efficiency == 0.88);
  CHECK(plan.generator->min_run_h == 1.0);
  CHECK(plan.generator->fuel_l_per_h_idle == Approx(0.11));
  CHECK(plan.generator->fuel_l_per_kwh == 0.35);
  CHECK_FALSE(plan.generator->tank_l);
  CHECK(plan.generator->fuel == Fuel::gasoline);
}

TEST_CASE("what a generator usually burns goes by its fuel and its rating") {
  const auto with_fuel = [](const std::string& keys) {
    return *with({.tables = kGenerator + keys}).generator;
  };
  const Generator diesel = with_fuel("fuel = \"diesel\"\n");
  CHECK(diesel.fuel == Fuel::diesel);
  CHECK(diesel.fuel_l_per_h_idle == Approx(0.08415));
  CHECK(diesel.fuel_l_per_kwh == 0.246);
  const Generator propane = with_fuel("fuel = \"propane\"\ntank_kg = 9\n");
  CHECK(propane.fuel == Fuel::propane);
  CHECK(propane_kg(propane.fuel_l_per_h_idle) == Approx(0.077));
  CHECK(propane_kg(propane.fuel_l_per_kwh) == Approx(0.245));
  CHECK(propane_kg(*propane.tank_l) == Approx(9.0));
  CHECK(propane.rated_on == Fuel::gasoline);
  CHECK(with_fuel("fuel = \"propane\"\nrated_on = \"propane\"\n").rated_on == Fuel::propane);
  const Generator stated =
      with_fuel("fuel = \"propane\"\nfuel_kg_per_h_idle = 0.3\nfuel_kg_per_kwh = 0.2\n");
  CHECK(propane_kg(stated.fuel_l_per_h_idle) == Approx(0.3));
  CHECK(propane_kg(stated.fuel_l_per_kwh) == Approx(0.2));
}

TEST_CASE("notes say what a plan allows but a reader should know") {
  using namespace plan_note;
  const auto noted = [](const Text& text, const PlanNote& note) {
    return with(text).notes == std::vector<PlanNote>{note};
  };
  CHECK(noted({.camp = "drive_in_h = 2\n"}, DriveBeforeArrival{}));
  CHECK(noted({.tables = "[vehicle]\ncharge_w = 100\n"}, VehicleNeverDriven{}));
  CHECK(noted({.tables = "[[controller]]\nname = \"a\"\nlimit_w = 100\n"},
              ControllersWithoutPanels{}));
  CHECK(noted({.battery = "discharge_limit_w = 4\n"}, LoadsAboveBattery{5.0, 4.0}));
  CHECK(noted({.load = "side = \"ac\"\n", .tables = kInverter + "on = [[\"07:00\", \"22:00\"]]\n"},
              LoadBesideInverterHours{"lamp"}));
  const Plan misfit =
      with({.tables = kInverter + "efficiency_at = [[0.1, 0.95], [0.5, 0.80], [1.0, 0.95]]\n"});
  REQUIRE(misfit.notes.size() == 3);
  const auto& at_half = std::get<InverterMisfit>(misfit.notes[1]);
  CHECK(at_half.load_share == 0.5);
  CHECK(at_half.stated_efficiency == 0.80);
  CHECK(at_half.modelled_efficiency > 0.81);
}

TEST_CASE("numbers of the wrong kind or size are refused at each key") {
  // Where, key, values that must not pass.
  const std::vector<std::pair<Text, const char*>> bad{
      {{.top = "accept_risk = 1.5\n"}, "accept_risk"},
      {{.top = "accept_risk = nan\n"}, "accept_risk"},
      {{.top = "summer_time = \"yes\"\n"}, "summer_time"},
      {{.top = "leave = 11\n"}, "leave"},
      {{.top = "leave = \"25:00\"\n"}, "leave"},
      {{.top = "leave = \"11:30\"\n"}, "leave"},
      {{.top = "title = 3\n"}, "title"},
      {{.camp = "canopy = 1\n"}, "camp[1].canopy"},
      {{.camp = "canopy = -0.1\n"}, "camp[1].canopy"},
      {{.camp = "canopy = inf\n"}, "camp[1].canopy"},
      {{.camp = "drive_in_h = 13\n"}, "camp[1].drive_in_h"},
      {{.camp = "hookup = 1\n"}, "camp[1].hookup"},
      {{.camp = "elevation_m = 9000\n"}, "camp[1].elevation_m"},
      {{.camp = "skyline = [{ from_deg = 90, to_deg = 80, height_deg = 5 }]\n"},
       "camp[1].skyline[1].to_deg"},
      {{.camp = "skyline = [{ from_deg = 90, to_deg = 100, height_deg = 95 }]\n"},
       "camp[1].skyline[1].height_deg"},
      {{.battery = "health = 0\n"}, "battery.health"},
      {{.battery = "health = nan\n"}, "battery.health"},
      {{.battery = "start_charge = 85\n"}, "battery.start_charge"},
      {{.battery = "charge_efficiency = 1.1\n"}, "battery.charge_efficiency"},
      {{.battery = "discharge_efficiency = -inf\n"}, "battery.discharge_efficiency"},
      {{.battery = "charge_limit_w = 0\n"}, "battery.charge_limit_w"},
      {{.battery = "discharge_limit_c_rate = \"1C\"\n"}, "battery.discharge_limit_c_rate"},
      {{.battery = "taper_from = 0.1\n"}, "battery.taper_from"},
      {{.battery = "delivers_wh = 1500\n"}, "battery.delivers_wh"},
      {{.battery = "at_w = 60\n"}, "battery.at_w"},
      {{.battery = "delivers_wh = 90000\nat_w = 60\n"}, "battery.delivers_wh"},
      {{.battery = "delivers_wh = 900\nat_w = 60\nusable_share = 0.8\n"}, "battery.usable_share"},
      {{.battery = "charge_min_c = 20\n"}, "battery.charge_min_c"},
      {{.battery = "self_discharge_per_month = 2\n"}, "battery.self_discharge_per_month"},
      {{.battery = "capacity_ah = 80\nnominal_v = 12\n"}, "battery.capacity_ah"},
      {{.battery = "chemistry = \"agm\"\n"}, "battery.chemistry"},
      {{.battery = "where = \"roof\"\n"}, "battery.where"},
      {{.tables = "[inverter]\nrated_w = 0\n"}, "inverter.rated_w"},
      {{.tables = kInverter + "standby_w = -1\n"}, "inverter.standby_w"},
      {{.tables = kInverter + "efficiency_at = []\n"}, "inverter.efficiency_at"},
      {{.tables = kInverter + "efficiency_at = [[0.1]]\n"}, "inverter.efficiency_at"},
      {{.tables = kInverter + "efficiency_at = [[0, 0.9]]\n"}, "inverter.efficiency_at"},
      {{.tables = kInverter + "efficiency_at = [[50, 93]]\n"}, "inverter.efficiency_at"},
      {{.tables = kInverter + "on = [\"07:00\", \"23:00\"]\n"}, "inverter.on"},
      {{.tables = kInverter + "[converter]\nefficiency = 0\n"}, "converter.efficiency"},
      {{.tables = "[[panels]]\nrated_w = nan\n"}, "panels[1].rated_w"},
      {{.tables = "[[panels]]\nrated_w = 100\nlosses = 1\n"}, "panels[1].losses"},
      {{.tables = "[[panels]]\nrated_w = 100\nmount = \"roof\"\n"}, "panels[1].mount"},
      {{.tables = "[[panels]]\nrated_w = 100\nmount = { tilt_deg = 100, azimuth_deg = 0 }\n"},
       "panels[1].mount.tilt_deg"},
      {{.tables = "[[panels]]\nrated_w = 100\nmount = { tilt_deg = 10 }\n"},
       "panels[1].mount.azimuth_deg"},
      {{.tables = "[[panels]]\nrated_w = 100\nmount = { aimed_at = [] }\n"},
       "panels[1].mount.aimed_at"},
      {{.tables = "[[panels]]\nrated_w = 100\ncontroller = \"roof\"\n"}, "panels[1].controller"},
      {{.tables = "[[panels]]\nrated_w = 100\ndull_light = \"bad\"\n"}, "panels[1].dull_light"},
      {{.tables = "[[controller]]\nname = \"a\"\nlimit_w = 9\n[[controller]]\nname = \"a\"\n"
                  "limit_w = 9\n"},
       "controller[2].name"},
      {{.load = "hours_per_day = 25\n"}, "load[1].hours_per_day"},
      {{.load = "hours_per_day = 3\nbetween = [\"08:00\", \"10:00\"]\n"}, "load[1].hours_per_day"},
      {{.load = "varies = 0.3\n"}, "load[1].varies"},
      {{.load = "hours_per_day = 1\nvaries = -0.3\n"}, "load[1].varies"},
      {{.load = "dull_day_factor = 11\n"}, "load[1].dull_day_factor"},
      {{.load = "optional_below = 30\n"}, "load[1].optional_below"},
      {{.load = "amps = 1\n"}, "load[1].amps"},
      {{.load = "side = \"dc\"\nbetween = [\"08:00\", \"08:00\"]\n"}, "load[1].between"},
      {{.load = "away = [\"00:00\", \"24:00\"]\n"}, "load[1].away"},
      {{.load = "[[load]]\nname = \"lamp\"\nwatts = 1\n"}, "load[2].name"},
      {{.load = "[[load]]\nname = \"b\"\nwatts = -1\n"}, "load[2].watts"},
      {{.load = "[[load]]\nname = \"b\"\n"}, "load[2].watts"},
      {{.load = "[[load]]\nname = \"b\"\namps = 1\n"}, "load[2].amps"},
      {{.load = "[[load]]\nname = \"b\"\nwatts = 1\nside = \"ac\"\n"}, "inverter"},
      {{.tables = kFurnace + "gains_w = -1\n"}, "furnace.gains_w"},
      {{.tables = "[furnace]\nblower_w = 1\noutput_w = 500\nheat_loss_w_per_k = 9\n"},
       "furnace.hold_c"},
      {{.tables = "[furnace]\nblower_w = 1\noutput_w = 500\nheat_loss_w_per_k = 9\nhold_c = [{ "
                  "from = \"22:00\", to = \"07:00\", c = 14 }, { from = \"06:00\", to = \"08:00\", "
                  "c = 9 }]\n"},
       "furnace.hold_c[2].from"},
      {{.tables = "[fridge]\nrunning_w = 40\nduty_at = [[20, 0.2], [10, 0.1]]\n"},
       "fridge.duty_at"},
      {{.tables = "[fridge]\nrunning_w = 40\nduty_at = [[20, 2]]\n"}, "fridge.duty_at"},
      {{.tables = "[fridge]\nrunning_w = inf\n"}, "fridge.running_w"},
      {{.tables = "[generator]\nrated_w = 1000\ncharger_w = 400\n"}, "generator.allowed"},
      {{.tables = kGenerator + "rule = \"always\"\n"}, "generator.rule"},
      {{.tables = kGenerator + "rule = \"below\"\nstart_below = 0.5\nstop_at = 0.5\n"},
       "generator.stop_at"},
      {{.tables = kGenerator + "min_run_h = -1\n"}, "generator.min_run_h"},
      {{.tables = kGenerator + "tank_l = 0\n"}, "generator.tank_l"},
      {{.tables = kGenerator + "tank_kg = 9\n"}, "generator.tank_kg"},
      {{.tables = kGenerator + "rated_on = \"propane\"\n"}, "generator.rated_on"},
      {{.tables = kGenerator + "fuel = \"propane\"\nrated_on = \"diesel\"\n"},
       "generator.rated_on"},
      {{.tables = kGenerator + "fuel_lb_per_kwh = 0.5\n"}, "generator.fuel_lb_per_kwh"},
      {{.tables = kGenerator + "fuel = \"kerosene\"\n"}, "generator.fuel"},
      {{.tables = kGenerator + "fuel = \"propane\"\ntank_kg = 0\n"}, "generator.tank_kg"},
      {{.tables = kGenerator + "fuel = \"propane\"\ntank_l = 4\n"}, "generator.tank_l"},
      {{.tables = kGenerator + "fuel = \"propane\"\ntank_gal = 1\n"}, "generator.tank_gal"},
      {{.tables = kGenerator + "fuel = \"diesel\"\nfuel_kg_per_h_idle = 0.1\n"},
       "generator.fuel_kg_per_h_idle"},
      {{.tables = "[vehicle]\ncharge_w = \"a lot\"\n"}, "vehicle.charge_w"},
      {{.tables = "[hookup]\n"}, "hookup.charger_w"},
      {{.camp = "hookup = true\n"}, "hookup"},
  };
  for (const auto& [text, key] : bad) {
    const std::string whole = text.whole();
    CAPTURE(whole);
    CHECK_THAT(error_of(whole), Contains(": " + std::string(key) + " "));
  }
}

TEST_CASE("what a plan cannot do without is asked for") {
  const std::pair<std::string, const char*> bad[] = {
      {kCamp + kBattery + kLoad, "plan.toml: arrive is missing"},
      {kTop + kBattery + kLoad, "plan.toml: camp is missing"},
      {kTop + kCamp + kLoad, "plan.toml: battery is missing"},
      {kTop + kCamp + kBattery, "plan.toml: load is missing"},
      {kTop + "[[camp]]\nnights = 1\n" + kBattery + kLoad, "camp[1].place is missing"},
      {kTop + "[[camp]]\nplace = \"bishop-ca\"\n" + kBattery + kLoad, "camp[1].nights is missing"},
      {kTop + kCamp + "[battery]\n" + kLoad, "battery.capacity_wh is missing"},
      {kTop + kCamp + "[battery]\ncapacity_ah = 100\n" + kLoad,
       "battery.capacity_ah needs nominal_v"},
      {kTop + kCamp + kBattery + "[[load]]\nwatts = 5\n", "load[1].name is missing"},
  };
  for (const auto& [text, message] : bad) {
    CAPTURE(text);
    CHECK_THAT(error_of(text), Contains(message));
  }
}

TEST_CASE("a mistyped key is answered with the one that was meant, at every table") {
  const std::string mount = "[[panels]]\nrated_w = 100\nmount = { tilt_deg = 9, azimuth_deg = 9, ";
  const std::pair<Text, std::pair<const char*, const char*>> bad[] = {
      {{.top = "acept_risk = 0.1\n"}, {"acept_risk", "accept_risk"}},
      {{.camp = "canoppy = 0.1\n"}, {"camp[1].canoppy", "canopy"}},
      {{.camp = "skyline = [{ from_deg = 1, to_deg = 2, height_deg = 3, let_through = 0 }]\n"},
       {"camp[1].skyline[1].let_through", "lets_through"}},
      {{.battery = "helth = 0.9\n"}, {"battery.helth", "health"}},
      {{.tables = kInverter + "standy_w = 9\n"}, {"inverter.standy_w", "standby_w"}},
      {{.tables = kInverter + "[converter]\neficiency = 0.9\n"},
       {"converter.eficiency", "efficiency"}},
      {{.tables = "[[controller]]\nname = \"a\"\nlimit_w = 9\nlimt_w = 9\n"},
       {"controller[1].limt_w", "limit_w"}},
      {{.tables = "[[panels]]\nrated_w = 100\nloses = 0.1\n"}, {"panels[1].loses", "losses"}},
      {{.tables = mount + "azimut_deg = 9 }\n"}, {"panels[1].mount.azimut_deg", "azimuth_deg"}},
      {{.load = "hours_perday = 3\n"}, {"load[1].hours_perday", "hours_per_day"}},
      {{.tables = kFurnace + "gain_w = 9\n"}, {"furnace.gain_w", "gains_w"}},
      {{.tables = "[fridge]\nrunning_w = 40\ndutty_at = [[20, 0.2]]\n"},
       {"fridge.dutty_at", "duty_at"}},
      {{.tables = kGenerator + "chargr_w = 9\n"}, {"generator.chargr_w", "charger_w"}},
      {{.tables = "[vehicle]\ncharge_w = 9\ncharg_w = 9\n"}, {"vehicle.charg_w", "charge_w"}},
      {{.tables = "[hookup]\ncharger_w = 90\nchargerw = 9\n"}, {"hookup.chargerw", "charger_w"}},
      {{.tables = "[furnaces]\nblower_w = 9\n"}, {"furnaces", "furnace"}},
  };
  for (const auto& [text, names] : bad) {
    const std::string whole = text.whole();
    CAPTURE(whole);
    const std::string message = error_of(whole);
    CHECK_THAT(message, Contains(": " + std::string(names.first) + " is not a known key"));
    CHECK_THAT(message, Contains("Did you mean `" + std::string(names.second) + "`?"));
  }
}

TEST_CASE("a date that does not exist or lies beyond the formulas is refused") {
  const auto arrive = [](const std::string& text) {
    return error_of("arrive = " + text + "\n" + kCamp + kBattery + kLoad);
  };
  CHECK_THAT(arrive("2027-02-29T15:00:00"), Contains("plan.toml:1:"));
  CHECK_THAT(arrive("2027-04-31T15:00:00"), Contains("plan.toml:1:"));
  CHECK_THAT(arrive("1949-05-01T15:00:00"), Contains("1950 to 2049"));
  CHECK_THAT(arrive("2050-05-01T15:00:00"), Contains("1950 to 2049"));
  CHECK_THAT(arrive("2027-05-21T15:30:00"), Contains("a whole hour"));
  CHECK_THAT(arrive("2027-05-21T15:00:00Z"), Contains("zone"));
  CHECK_THAT(arrive("2027-05-21"), Contains("a local date and time"));
  CHECK_THAT(arrive("\"May\""), Contains("a local date and time"));
  CHECK(iso_date(plan_of("arrive = 2028-02-29T15:00:00\n" + kCamp + kBattery + kLoad).arrive) ==
        "2028-02-29");
}

TEST_CASE("a far place is refused unless it is wanted, a fairly far one noted") {
  const auto at = [](const std::string& latitude, const std::string& longitude,
                     const std::string& more = "") {
    return kTop + "[[camp]]\nplace = { latitude = " + latitude + ", longitude = " + longitude +
           " }\nnights = 1\n" + more + kBattery + kLoad;
  };
  CHECK_THAT(error_of(at("91", "0")), Contains("place.latitude"));
  CHECK_THAT(error_of(at("45", "-181")), Contains("place.longitude"));
}

TEST_CASE("more nights than a year has are refused, in one camp or in all together") {
  const auto camps = [](int nights) {
    return "[[camp]]\nplace = \"bishop-ca\"\nnights = " + std::to_string(nights) + "\n";
  };
  CHECK_THAT(error_of(kTop + camps(0) + kBattery + kLoad), Contains("camp[1].nights"));
  CHECK_THAT(error_of(kTop + camps(367) + kBattery + kLoad), Contains("camp[1].nights"));
  CHECK_THAT(error_of(kTop + camps(300) + camps(67) + kBattery + kLoad),
             Contains("367 nights") && Contains("366"));
  CHECK(plan_of(kTop + camps(300) + camps(66) + kBattery + kLoad).nights() == 366);
}

TEST_CASE("a place that states no temperatures gets those known around it") {
  const std::string camp =
      "[[camp]]\nnights = 1\nplace = { latitude = 45, longitude = 7, utc_offset_h = 1, k_mean = "
      "[0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5] }\n";
  const Plan plan = plan_of(kTop + camp + kBattery + kFurnace);
  const MonthStatistics& july = plan.camps[0].place.months[6];
  CHECK(july.k_mean == 0.5);
  // Turin lies there: 24 C in July, from memory.
  CHECK(july.temp_mean_c->value == Approx(24.0).margin(4.0));
  CHECK(july.temp_mean_c->standard_error > 0.5);
}

TEST_CASE("a camp may type monthly mean temperatures of its own") {
  const std::string means = "temp_mean_c = [-2, 0, 7, 13, 17, 22, 25, 24, 20, 13, 6, 0]\n";
  const std::string kabul = "[[camp]]\nplace = \"kabul-af\"\nnights = 2\n";
  const Plan provided = plan_of(kTop + kabul + means + kBattery + kFurnace);
  CHECK(provided.camps[0].place.months[4].temp_mean_c == 17.0);
  REQUIRE(provided.camps[0].temp_mean_c.has_value());
  CHECK((*provided.camps[0].temp_mean_c)[11] == 0.0);
  CHECK(provided.notes.empty());

  const Plan replaced = with({.camp = means});
  CHECK(replaced.camps[0].place.months[6].temp_mean_c == 25.0);
  CHECK_FALSE(with({}).camps[0].temp_mean_c.has_value());

  CHECK_THAT(error_of(Text{.camp = means + "elevation_m = 900\n"}.whole()),
             Contains("camp[1].temp_mean_c is given besides elevation_m"));
  CHECK_THAT(error_of(Text{.camp = "temp_mean_c = [1, 2]\n"}.whole()),
             Contains("camp[1].temp_mean_c"));
}

TEST_CASE("coordinates get months of their own, and a town those of its own height") {
  const auto camp_of = [](const std::string& place, const std::string& more = "") {
    return plan_of(kTop + "[[camp]]\nnights = 1\nplace = " + place + "\n" + more + kBattery + kLoad)
        .camps[0];
  };
  const Camp camp = camp_of("{ latitude = 38.57, longitude = -109.55 }");
  CHECK(camp.place.record == RecordKind::blended);
  CHECK(camp.place.name == "38.57, -109.55");
  CHECK(camp.place.where.latitude_deg == 38.57);
  CHECK(camp.place.utc_offset_h == -7.0);
  CHECK_FALSE(camp.elevation_m);
  CHECK(camp.place.months[6].k_mean.value == Approx(0.66).margin(0.05));
  const Camp town = camp_of("\"moab, utah\"");
  CHECK(town.place.name == "Moab, UT, United States");
  CHECK(*town.elevation_m == Approx(1230.0).margin(50.0));
  CHECK(town.place.months[0].k_mean.value ==
        Approx(camp.place.months[0].k_mean.value).margin(0.04));
  const Camp higher = camp_of("\"Moab, UT\"", "elevation_m = 2230\n");
  const double colder_k =
      town.place.months[0].temp_mean_c->value - higher.place.months[0].temp_mean_c->value;
  CHECK(colder_k == Approx(4.6).margin(1.5));
  // On the open ocean, too.
  CHECK(camp_of("{ latitude = 0, longitude = -150 }").place.months[0].k_mean.standard_error > 0.02);
}

TEST_CASE("a built-in place is used as it leans on its neighbors, a measured one as it is") {
  const auto months_of = [](const std::string& id) {
    return plan_of(kTop + "[[camp]]\nnights = 1\nplace = \"" + id + "\"\n" + kBattery + kLoad)
        .camps[0]
        .place.months;
  };
  const auto stated = [](const char* id) { return PlaceCatalogue::built_in().place(id)->months; };
  CHECK(months_of("de-bilt-nl")[5].k_mean.value == stated("de-bilt-nl")[5].k_mean.value);
  const Estimate leans = months_of("moab-ut")[5].k_mean;
  CHECK(leans.value != stated("moab-ut")[5].k_mean.value);
  CHECK(leans.value == Approx(stated("moab-ut")[5].k_mean.value).margin(0.06));
  CHECK(leans.standard_error.has_value());
  CHECK(months_of("kabul-af")[0].temp_mean_c.has_value());
}

TEST_CASE("a town of several names says which, and a wrong one the likely ones") {
  const auto error = [](const std::string& place) {
    return error_of(kTop + "[[camp]]\nnights = 1\nplace = \"" + place + "\"\n" + kBattery + kLoad);
  };
  CHECK_THAT(error("Springfield"), Contains("is the name of") && Contains("\"Springfield, MO\""));
  CHECK_THAT(error("Insbruck"), Contains("Did you mean \"Innsbruck, Austria\""));
  CHECK_THAT(error("moab-utt"), Contains("Did you mean \"moab-ut\""));
}

TEST_CASE("messages show the place, what is allowed and the cure") {
  const std::pair<std::string, const char*> messages[] = {
      {Text{.battery = "health = -0.5\n"}.whole(),
       R"(plan.toml:7:10: battery.health is -0.5; allowed: 0.2 to 1
     7 | health = -0.5
       |          ^
  1 is new, 0.8 an old battery.
)"},
      {Text{.battery = "health = nan\n"}.whole(),
       R"(plan.toml:7:10: battery.health is nan; allowed: 0.2 to 1
     7 | health = nan
       |          ^
  1 is new, 0.8 an old battery.
)"},
      {Text{.battery = "helth = 0.9\n"}.whole(),
       R"(plan.toml:7:1: battery.helth is not a known key
     7 | helth = 0.9
       | ^
  Did you mean `health`?
)"},
      {Text{.battery = "chemistry = \"agm\"\n"}.whole(),
       R"(plan.toml:7:13: battery.chemistry is "agm"; allowed: "lfp", "nmc"
     7 | chemistry = "agm"
       |             ^
  Lithium only in this version.
)"},
      {Text{.battery = "chemistry = \"lpf\"\n"}.whole(),
       R"(plan.toml:7:13: battery.chemistry is "lpf"; allowed: "lfp", "nmc"
     7 | chemistry = "lpf"
       |             ^
  Did you mean "lfp"?
)"},
      {Text{.load = "varies = 0.3\n"}.whole(),
       R"(plan.toml:10:10: load[1].varies needs hours_per_day
    10 | varies = 0.3
       |          ^
  It changes the hours of use: say how many are usual, within `between`.
)"},
      {Text{.load = "[[load]]\nname = \"b\"\nwatts = \"5 W\"\n"}.whole(),
       R"(plan.toml:12:9: load[2].watts is the text "5 W", not a number; allowed: 0 to 20000 (W)
    12 | watts = "5 W"
       |         ^
  Write the number without quotes or unit.
)"},
      {Text{.tables = "[[generator]]\nrated_w = 1000\n"}.whole(),
       R"(plan.toml:7:1: generator is a list; allowed: a table, written [generator]
     7 | [[generator]]
       | ^
  There can be only one: write [generator], not [[generator]].
)"},
      {Text{.tables = "[panels]\nrated_w = 1000\n"}.whole(),
       R"(plan.toml:7:1: panels is a single table; allowed: tables, each written [[panels]]
     7 | [panels]
       | ^
  Write [[panels]] with two brackets: there may be several.
)"},
      {Text{.top = "leave = \"11:30\"\n"}.whole(),
       R"(plan.toml:2:9: leave is 11:30; allowed: a whole hour
     2 | leave = "11:30"
       |         ^
  Use a whole hour, e.g. 15:00.
)"},
      {kTop + "[[camp]]\nplace = \"bishp-ca\"\nnights = 1\n" + kBattery + kLoad,
       R"(plan.toml:3:9: camp[1].place is "bishp-ca", which is no town that is known; allowed: a town such as "Moab, UT", an id that `dullspell places` lists, a place file, or { latitude = .., longitude = .. }
     3 | place = "bishp-ca"
       |         ^
  Did you mean "bishop-ca"?
)"},
      {kTop + kCamp + kLoad,
       R"(plan.toml: battery is missing; allowed: a table [battery] with capacity_wh
  Write the energy on the battery's label, e.g. capacity_wh = 1920.
)"},
      {kTop + kCamp + kBattery,
       R"(plan.toml: load is missing; allowed: at least one [[load]], a [furnace] or a [fridge]
  Without loads a battery never runs flat. List standby loads first: they run day and night.
)"},
      {"arrive = 2027-02-09\n" + kCamp + kBattery + kLoad,
       R"(plan.toml:1:10: arrive is a date; allowed: a local date and time such as 2027-05-21T15:00:00 or "2027-05-21 3 pm"
     1 | arrive = 2027-02-09
       |          ^
)"},
  };
  for (const auto& [text, message] : messages) CHECK_THAT(error_of(text), Equals(message));
}

TEST_CASE("a slip that is plain gets the cure that is plain") {
  CHECK_THAT(error_of(kTop + kCamp + kBattery + "start_charge = 55\n" + kLoad),
             Contains("is 55") && Contains("Did you mean 0.55 or \"55 %\"?"));
  CHECK_THAT(error_of(kTop + kCamp + kBattery + "start_charge = \".5\"\n" + kLoad),
             Contains("before the point: 0.5."));
  CHECK_THAT(error_of(kTop + kCamp + "[battery]\ncapacity = 2000\n" + kLoad),
             Contains("battery.capacity is not a known key") && Contains("`capacity_wh`"));
  CHECK_THAT(
      error_of(kTop + kCamp + kBattery + "[[panels]]\nrated_w = 100\nmount = \"flatt\"\n" + kLoad),
      Contains("\"flatt\"") && Contains("tilt_deg") && Contains("Did you mean \"flat\"?"));
  CHECK_THAT(error_of(kTop + "leave = 2027-05-28\n" + kCamp + kBattery + kLoad),
             Contains("hour of departure"));
  CHECK_THAT(
      error_of(kTop + kCamp + kBattery + kLoad + "[[option]]\nname = \"a\"\ncapacity_wh = 3000\n"),
      Contains("capacity_wh") && Contains("`battery_wh`"));
  CHECK_THAT(error_of(kTop + "[[camp]]\nplace = \"Crescent\"\nnights = 1\n" + kBattery + kLoad),
             Contains("\"crescent-city-ca\""));
}

TEST_CASE("what one full discharge delivered says how much the battery holds, losses taken once") {
  // A made-up display: 600 Wh at 50 W through an inverter that loses 12.5 W at that draw, for 12
  // hours; the cells give 62.5 W, which is 0.97 of what their store loses.
  const Plan plan = with({.battery = "delivers_wh = 600\nat_w = 50\ndischarge_efficiency = 0.97\n",
                          .tables = "[inverter]\nrated_w = 1000\nstandby_w = 10\n"
                                    "efficiency_at = [[0.05, 0.8]]\n"});
  const double inverter_w = plan.inverter->loss_w(50.0);
  CHECK(inverter_w == Approx(12.5));
  CHECK(plan.battery.usable_wh() == Approx(600.0 * 62.5 / 50.0 / 0.97));
  // Without an inverter the display counts what the battery gives.
  const Plan direct = with({.battery = "delivers_wh = 600\nat_w = 50\n"});
  CHECK(direct.battery.usable_wh() == Approx(600.0 / direct.battery.discharge_efficiency));
}

TEST_CASE("windows that overlap count once") {
  const Plan plan =
      plan_of(kTop +
              "[[camp]]\nplace = \"moab-ut\"\nnights = 2\n[battery]\ncapacity_wh = 800\n"
              "[[load]]\nname = \"all\"\nwatts = 60\n"
              "[inverter]\nrated_w = 500\non = [[\"22:30\", \"00:30\"], [\"00:00\", \"00:45\"]]\n"
              "[generator]\nrated_w = 1000\ncharger_w = 500\n"
              "allowed = [[\"11:00\", \"11:40\"], [\"11:20\", \"11:50\"]]\n");
  CHECK(share_of_hour(plan.generator->allowed, 11) == Approx(50.0 / 60.0));
  CHECK(share_of_hour(plan.inverter->on, 0) == Approx(45.0 / 60.0));
  CHECK(share_of_hour(plan.inverter->on, 23) == 1.0);
}

TEST_CASE("each key in a US unit gives the plan that its metric twin gives") {
  const auto furnace = [](const std::string& keys) {
    return kTop + kCamp + kBattery + "[furnace]\nblower_w = 40\n" + keys + kLoad;
  };
  const std::string output = "output_w = 5000\n", loss = "heat_loss_w_per_k = 100\n",
                    hold = "hold_c = [{ from = \"22:00\", to = \"07:00\", c = 15 }]\n";
  const std::string propane = "fuel = \"propane\"\n";
  const auto generator = [](const std::string& keys) {
    return Text{.tables = kGenerator + keys}.whole();
  };
  const auto option = [](const std::string& keys) {
    return kTop + kCamp + kBattery + kLoad + "[[option]]\nname = \"a\"\nbattery_wh = 2000\n" + keys;
  };
  const auto place = [](const std::string& keys) {
    return kTop + "[[camp]]\nnights = 1\n" + kBattery + kLoad +
           "[camp.place]\nlatitude = 41.8\nlongitude = -124.1\nutc_offset_h = -8\nk_mean = 0.5\n" +
           keys;
  };
  using Get = double (*)(const Plan&);
  struct Twin {
    std::string us, metric;
    Get get;
    double value;
  };
  // Each converts to a metric number that ends, so that both are read as the double next to it.
  const Twin twins[] = {
      {Text{.camp = "elevation_ft = 5000\n"}.whole(), Text{.camp = "elevation_m = 1524\n"}.whole(),
       [](const Plan& p) { return *p.camps[0].elevation_m; }, 1524.0},
      {Text{.camp = "temp_mean_f = [14, 23, 32, 41, 50, 59, 68, 77, 59, 50, 41, 32]\n"}.whole(),
       Text{.camp = "temp_mean_c = [-10, -5, 0, 5, 10, 15, 20, 25, 15, 10, 5, 0]\n"}.whole(),
       [](const Plan& p) { return p.camps[0].place.months[7].temp_mean_c->value; }, 25.0},
      {Text{.battery = "charge_min_f = 23\n"}.whole(),
       Text{.battery = "charge_min_c = -5\n"}.whole(),
       [](const Plan& p) { return p.battery.charge_min_c; }, -5.0},
      {Text{.tables = "[fridge]\nrunning_w = 50\nduty_at_f = [[68, 0.2], [86, 0.4]]\n"}.whole(),
       Text{.tables = "[fridge]\nrunning_w = 50\nduty_at = [[20, 0.2], [30, 0.4]]\n"}.whole(),
       [](const Plan& p) { return p.fridge->duty_at.at(1).first; }, 30.0},
      {furnace("output_btu_h = 36000\n" + loss + hold),
       furnace("output_w = 10550.5585262\n" + loss + hold),
       [](const Plan& p) { return p.furnace->output_w; }, 10550.5585262},
      {furnace(output + "heat_loss_btu_h_per_f = 200\n" + hold),
       furnace(output + "heat_loss_w_per_k = 105.505585262\n" + hold),
       [](const Plan& p) { return p.furnace->heat_loss_w_per_k; }, 105.505585262},
      {furnace(output + loss + hold + "gains_btu_h = 1800\n"),
       furnace(output + loss + hold + "gains_w = 527.52792631\n"),
       [](const Plan& p) { return p.furnace->gains_w; }, 527.52792631},
      {furnace(output + loss + hold + "other_heat_f = 41\n"),
       furnace(output + loss + hold + "other_heat_c = 5\n"),
       [](const Plan& p) { return *p.furnace->other_heat_c; }, 5.0},
      {furnace(output + loss + "hold_f = [{ from = \"22:00\", to = \"07:00\", f = 59 }]\n"),
       furnace(output + loss + hold),
       [](const Plan& p) { return p.furnace->hold.at(0).set_point_c; }, 15.0},
      {furnace(output + loss + "hold_c = [{ from = \"22:00\", to = \"07:00\", f = 59 }]\n"),
       furnace(output + loss + hold),
       [](const Plan& p) { return p.furnace->hold.at(0).set_point_c; }, 15.0},
      {generator("fuel_gal_per_h_idle = 0.0625\n"), generator("fuel_l_per_h_idle = 0.2365882365\n"),
       [](const Plan& p) { return p.generator->fuel_l_per_h_idle; }, 0.2365882365},
      {generator("fuel_gal_per_kwh = 0.125\n"), generator("fuel_l_per_kwh = 0.473176473\n"),
       [](const Plan& p) { return p.generator->fuel_l_per_kwh; }, 0.473176473},
      {generator("tank_gal = 1\n"), generator("tank_l = 3.785411784\n"),
       [](const Plan& p) { return *p.generator->tank_l; }, 3.785411784},
      {generator(propane + "fuel_lb_per_h_idle = 0.25\n"),
       generator(propane + "fuel_kg_per_h_idle = 0.1133980925\n"),
       [](const Plan& p) { return p.generator->fuel_l_per_h_idle; }, 0.1133980925 / 0.51},
      {generator(propane + "fuel_lb_per_kwh = 1\n"),
       generator(propane + "fuel_kg_per_kwh = 0.45359237\n"),
       [](const Plan& p) { return p.generator->fuel_l_per_kwh; }, 0.45359237 / 0.51},
      {generator(propane + "tank_lb = 20\n"), generator(propane + "tank_kg = 9.0718474\n"),
       [](const Plan& p) { return *p.generator->tank_l; }, 9.0718474 / 0.51},
      {option("weight_lb = 100\n"), option("weight_kg = 45.359237\n"),
       [](const Plan& p) { return *p.options.at(0).weight_kg; }, 45.359237},
      {place("elevation_ft = 100\n"), place("elevation_m = 30.48\n"),
       [](const Plan& p) { return *p.camps[0].place.elevation_m; }, 30.48},
      {place("temp_mean_f = 59\n"), place("temp_mean_c = 15\n"),
       [](const Plan& p) { return p.camps[0].place.months[3].temp_mean_c->value; }, 15.0},
      {place("temp_mean_c = 15\ntemp_range_f = 18\n"),
       place("temp_mean_c = 15\ntemp_range_c = 10\n"),
       [](const Plan& p) { return p.camps[0].place.months[3].temp_range_c.value; }, 10.0},
      {place("temp_mean_c = 15\ntemp_sd_f = 9\n"), place("temp_mean_c = 15\ntemp_sd_c = 5\n"),
       [](const Plan& p) { return p.camps[0].place.months[3].temp_sd_c.value; }, 5.0},
      {place("temp_mean_c = 15\nstandard_error = { temp_mean_f = 1.8 }\n"),
       place("temp_mean_c = 15\nstandard_error = { temp_mean_c = 1 }\n"),
       [](const Plan& p) { return *p.camps[0].place.months[3].temp_mean_c->standard_error; }, 1.0},
  };
  for (const Twin& twin : twins) {
    CAPTURE(twin.us);
    CHECK(twin.get(plan_of(twin.us)) == twin.value);
    CHECK(twin.get(plan_of(twin.metric)) == twin.value);
  }
}

TEST_CASE("a US unit's mistakes are told in that unit") {
  const auto furnace = [](const std::string& keys) {
    return error_of(kTop + kCamp + kBattery + "[furnace]\nblower_w = 40\noutput_btu_h = 20000\n" +
                    keys + kLoad);
  };
  const std::string loss = "heat_loss_btu_h_per_f = 200\n";
  CHECK_THAT(furnace("heat_loss_btu_h_per_f = 4000\n"),
             Contains("furnace.heat_loss_btu_h_per_f is 4000; allowed: 1.9 to 3791 (BTU/h per F)"));
  CHECK_THAT(furnace(loss + "heat_loss_w_per_k = 100\n"),
             Contains("furnace.heat_loss_btu_h_per_f is given besides heat_loss_w_per_k"));
  CHECK_THAT(furnace(loss + "hold_f = [{ from = \"22:00\", to = \"07:00\", f = 120 }]\n"),
             Contains("furnace.hold_f[1].f is 120; allowed: -4 to 95 (F)"));
  CHECK_THAT(furnace(loss + "hold_f = [{ from = \"22:00\", to = \"07:00\", c = 30 }]\n"),
             Contains("furnace.hold_f[1].c stands in hold_f; allowed: f, in F"));
  CHECK_THAT(furnace(loss + "hold_f = [{ from = \"22:00\", to = \"07:00\" }]\n"),
             Contains("furnace.hold_f[1].f is missing; allowed: how warm it is held, in F"));
  CHECK_THAT(furnace(loss + "hold_c = []\nhold_f = []\n"),
             Contains("furnace.hold_f is given besides hold_c"));
  CHECK_THAT(furnace("hold_f = []\n"),
             Contains("heat_loss_w_per_k is missing") && Contains(", or heat_loss_btu_h_per_f"));
  const std::string means = "temp_mean_f = [30, 32, 40, 50, 59, 70, 77, 75, 68, 55, 43, 32]\n";
  CHECK_THAT(error_of(Text{.camp = means + "elevation_ft = 900\n"}.whole()),
             Contains("camp[1].temp_mean_f is given besides elevation_ft") &&
                 Contains("elevation_ft moves the place's temperatures"));
  CHECK_THAT(
      error_of(
          Text{.tables = "[fridge]\nrunning_w = 40\nduty_at_f = [[86, 0.2], [68, 0.1]]\n"}.whole()),
      Contains("fridge.duty_at_f has temperatures that do not grow"));
  CHECK_THAT(error_of(Text{.tables = kGenerator + "tank_gal = 60\n"}.whole()),
             Contains("generator.tank_gal is 60; allowed: 0.0265 to 52.8 (gal)"));
}

TEST_CASE("settings may speak in US units, whatever the file does") {
  const auto elevation = [](const std::string& camp, const std::string& setting) {
    return *plan_of(Text{.camp = camp}.whole(), {setting}).camps[0].elevation_m;
  };
  CHECK(elevation("elevation_m = 10\n", "camp[1].elevation_ft=5000") == 1524.0);
  CHECK(elevation("elevation_ft = 10\n", "camp[1].elevation_m=1524") == 1524.0);
  CHECK(elevation("", "camp[1].elevation_ft=5000") == 1524.0);
  const Plan warmer =
      plan_of(kTop + kCamp + kBattery + kFurnace + kLoad, {"furnace.hold_c[1].f=59"});
  CHECK(warmer.furnace->hold[0].set_point_c == 15.0);
}

TEST_CASE("shares, hours and times may be said in words") {
  const Plan plan = plan_of(R"(
arrive = "2027-05-21 3 pm"
leave = "11 am"
accept_risk = "15 %"
[[camp]]
place = "bishop-ca"
nights = 2
canopy = "41 %"
drive_in_h = "1:30"
[battery]
capacity_wh = 1000
start_charge = "80 %"
[guesses]
standby = "10 %"
[generator]
rated_w = 1000
charger_w = 400
allowed = [["8 am", "10:30 AM"]]
min_run_h = "30 min"
[[load]]
name = "lamp"
watts = 5
hours_per_day = "2 h 30 min"
between = ["6 pm", "23"]
[[reading]]
charge_from = "92 %"
charge_to = "74%"
from = "2027-05-10 9:30 pm"
to = 2027-05-11T07:00:00
)");
  CHECK(iso_date(plan.arrive) == "2027-05-21");
  CHECK(plan.arrive_hour == 15);
  CHECK(plan.leave_hour == 11);
  CHECK(plan.accept_risk == 0.15);
  CHECK(plan.camps[0].drive_in_h == 1.5);
  CHECK(plan.generator->allowed[0].from_min == 480);
  CHECK(plan.generator->allowed[0].to_min == 630);
  CHECK(plan.generator->min_run_h == 0.5);
  CHECK(plan.loads[0].hours_per_day == 2.5);
  CHECK(plan.loads[0].between[0].from_min == 1080);
  CHECK(plan.loads[0].between[0].to_min == 1380);
  REQUIRE(plan.readings.size() == 1);
  CHECK(plan.readings[0].charge_from == 0.92);
  CHECK(plan.readings[0].shown == 0.74);
  CHECK(plan.readings[0].from.minute_of_day == 1290);
  const Plan shaded = with({.camp = "canopy = \"41 %\"\n", .battery = "start_charge = \"80 %\"\n"});
  CHECK(shaded.camps[0].canopy == 0.41);
  CHECK(shaded.battery.start_charge == 0.8);

  CHECK_THAT(error_of("arrive = \"2027-05-21 3:30 pm\"\n" + kCamp + kBattery + kLoad),
             Contains("arrive is 15:30; allowed: a whole hour"));
  CHECK_THAT(error_of(Text{.top = "leave = \"10:30 am\"\n"}.whole()),
             Contains("leave is 10:30; allowed: a whole hour"));
  CHECK_THAT(error_of(Text{.camp = "canopy = 41\n"}.whole()),
             Contains("camp[1].canopy is 41") && Contains("Did you mean 0.41 or \"41 %\"?"));
  CHECK_THAT(error_of(Text{.camp = "canopy = \"99 %\"\n"}.whole()),
             Contains("camp[1].canopy is \"99 %\"; allowed: 0 to 95 %"));
  CHECK_THAT(
      error_of(Text{.load = "hours_per_day = \"5 h\"\nbetween = [\"6 pm\", \"8 pm\"]\n"}.whole()),
      Contains("hours_per_day is 5; allowed: up to the 2.00 h of its windows"));
  CHECK_THAT(error_of(kTop + kCamp + "[battery]\ncapacity_wh = \"80 %\"\n" + kLoad),
             Contains("is the text \"80 %\", not a number") && Contains("A percent is for shares"));
}

}  // namespace dullspell::plan_file_test
