#include <sstream>

#include <catch2/catch.hpp>

#include "engine/plan/plan_edit.hpp"
#include "engine/study/prepare.hpp"
#include "reports/json_renderer.hpp"
#include "reports/plan_data.hpp"
#include "tests/support/engine_plan.hpp"

namespace dullspell::edited_plans_test {

namespace {

const std::string kLamp = R"([[load]]
name = "lamp"
watts = 20
between = ["19:00", "23:00"]
)";
const std::string kFridge = R"([fridge]
running_w = 50
side = "ac"
)";
const std::string kCanopy = "canopy = 0.4\n";
const std::string kSkyline =
    "skyline = [{ from_deg = 60, to_deg = 300, height_deg = 25, lets_through = 0.1 }]\n";

const std::string kPlan = R"(arrive = 2027-05-21T15:00:00
[[forecast]]
date = 2027-05-25
sky = "clear"
[[camp]]
place = "crescent-city-ca"
nights = 2
)" + kCanopy + kSkyline + R"([[camp]]
place = "south-lake-tahoe-ca"
nights = 2
[battery]
capacity_wh = 1000
charge_limit_w = 300
[inverter]
rated_w = 1000
on = [["06:00", "23:30"]]
[[panels]]
rated_w = 300
mount = { tilt_deg = 35, azimuth_deg = 180 }
controller_limit_w = 250
[[panels]]
rated_w = 100
[[load]]
name = "standby"
watts = 9
[[load]]
name = "laptop"
side = "ac"
watts = 55
hours_per_day = 4
between = ["09:00", "23:00"]
)" + kLamp + kFridge + R"([furnace]
blower_w = 80
output_w = 4000
heat_loss_w_per_k = 100
hold_c = [{ from = "22:00", to = "07:00", c = 12 }, { from = "07:00", to = "09:00", c = 18 }]
)";

std::string without(std::string text, const std::string& part) {
  const auto at = text.find(part);
  REQUIRE(at != std::string::npos);
  return text.erase(at, part.size());
}

// Everything that a plan says, to the bit, but for how it came about.
std::string shown(const Plan& plan) {
  Data data = plan_data(plan, prepare(plan));
  data.erase("set");
  std::ostringstream out;
  write_json(out, data);
  return out.str();
}

void check_same(const Plan& edited, const std::string& file,
                const std::vector<std::string>& settings = {}) {
  const Plan stated = plan_of(file, settings);
  CHECK(shown(edited) == shown(stated));
  CHECK(shown(edited) != shown(plan_of(kPlan)));
  CHECK(edited.battery.charge_limit_w == stated.battery.charge_limit_w);
  CHECK(edited.battery.discharge_limit_w == stated.battery.discharge_limit_w);
}

}  // namespace

TEST_CASE("an edited plan is what a changed file makes") {
  const Plan plan = plan_of(kPlan);
  SECTION("a load left out") {
    check_same(without_load(plan, 2), without(kPlan, kLamp));
  }
  SECTION("the fridge left out") {
    check_same(without_fridge(plan), without(kPlan, kFridge));
  }
  SECTION("half the watts of what runs day and night") {
    check_same(with_load_halved(plan, 0), kPlan, {"load[1].watts=4.5"});
  }
  SECTION("half the hours of a load that states them") {
    check_same(with_load_halved(plan, 1), kPlan, {"load[2].hours_per_day=2"});
  }
  SECTION("half the hours of a load that fills its window") {
    check_same(with_load_halved(plan, 2), kPlan, {"load[3].hours_per_day=2"});
    CHECK(with_load_halved(plan, 2).loads[2].hours_stated);
  }
  SECTION("flat panels tilted") {
    check_same(with_flat_panels_at(plan, {20.0, 180.0}), kPlan,
               {"panels[2].mount={ tilt_deg = 20, azimuth_deg = 180 }"});
  }
  SECTION("panels turned by hand") {
    check_same(with_fixed_panels_aimed(plan, {{600, 780}}), kPlan,
               {"panels[1].mount={ aimed_at = [\"10:00\", \"13:00\"] }",
                "panels[2].mount={ aimed_at = [\"10:00\", \"13:00\"] }"});
  }
  SECTION("more panels") {
    check_same(with_panels_w(plan, 500.0), kPlan,
               {"panels[1].rated_w=375", "panels[2].rated_w=125"});
  }
  SECTION("more battery, whose limit in watts stays and whose other one follows") {
    check_same(with_battery_wh(plan, 1500.0), kPlan, {"battery.capacity_wh=1500"});
  }
  SECTION("thicker crowns above one camp") {
    check_same(with_canopy(plan, 0, 0.6), kPlan, {"camp[1].canopy=0.6"});
  }
  SECTION("in the open") {
    check_same(in_the_open(plan), without(without(kPlan, kCanopy), kSkyline));
  }
  SECTION("a cooler cabin") {
    check_same(with_furnace_warmer(plan, -3.0), kPlan,
               {"furnace.hold_c[1].c=9", "furnace.hold_c[2].c=15"});
  }
  SECTION("the inverter off at night") {
    check_same(with_inverter_off(plan, {23 * 60, 7 * 60}), kPlan,
               {"inverter.on=[[\"07:00\", \"23:00\"]]"});
  }
  SECTION("one night fewer, which takes a forecast of the last date with it") {
    check_same(one_night_shorter(plan),
               without(kPlan, "[[forecast]]\ndate = 2027-05-25\nsky = \"clear\"\n"),
               {"camp[2].nights=1"});
  }
  SECTION("a generator") {
    Generator generator;
    generator.rated_w = 1000.0;
    generator.charger_w = 500.0;
    generator.allowed = {{17 * 60, 18 * 60}};
    generator.fuel_l_per_h_idle = 0.11;
    generator.fuel_l_per_kwh = 0.35;
    check_same(with_generator(plan, generator), kPlan +
                                                    "[generator]\nrated_w = 1000\ncharger_w = 500\n"
                                                    "allowed = [[\"17:00\", \"18:00\"]]\n");
  }
}

TEST_CASE("a camp of one night goes with its night") {
  const Plan plan = plan_of(kPlan, {"camp[2].nights=1", "forecast[1].date=2027-05-24"});
  const Plan shorter = one_night_shorter(plan);
  CHECK(shorter.camps.size() == 1);
  CHECK(shorter.nights() == 2);
  CHECK(shorter.forecast.empty());
}

}  // namespace dullspell::edited_plans_test
