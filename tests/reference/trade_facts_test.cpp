#include <catch2/catch.hpp>

#include "engine/kit/inverter.hpp"
#include "engine/kit/panels.hpp"
#include "tests/support/one_hour.hpp"

using namespace dullspell;

// Facts of the trade: common practice, no source.

namespace {

Battery box(double capacity_wh) {
  Battery battery;
  battery.capacity_wh = capacity_wh;
  battery.discharge_limit_w = capacity_wh;
  battery.self_discharge_per_month = 0.0;
  return battery;
}

Inverter usual_inverter() {
  return fit_inverter(2000.0, 14.0, {{0.1, 0.91}, {0.5, 0.93}, {1.0, 0.90}});
}

HourNeeds alternating(double watts) {
  HourNeeds needs;
  needs.ac_w = watts;
  needs.inverter_on = 1.0;
  needs.battery_c = 25.0;
  return needs;
}

// 600 W of panels lying flat, losses 0.08, at 15 C.
double power_of_600_w(double light_w_m2) {
  const ModuleLine line = module_line(DullLight::usual, light_w_m2);
  return 600.0 * (1.0 - 0.08) * (line.at_25 + line.per_k * (15.0 - 25.0));
}

// Under cloud that casts no shadows all light is diffuse: trees dim it as they dim the whole sky.
// (A mixed day's beam, high in May, would get through the crowns better: about 104 W of 500 W/m2.)
double power_under_trees_w(double diffuse_w_m2) {
  return power_of_600_w(diffuse_w_m2 * Shade(0.5, {}).sky_view_factor({0.0, 180.0}));
}

}  // namespace

TEST_CASE("a 2,000 Wh box gives about 1,680 Wh through its inverter at 100 W") {
  const Inverter inverter = usual_inverter();
  const Battery battery = box(2000.0);
  double stored_wh = battery.usable_wh(), served_wh = 0.0;
  for (bool flat = false; !flat;) {
    const HourFlow hour = step_hour(battery, &inverter, alternating(100.0), {}, 0.0, stored_wh);
    stored_wh = hour.stored_after_wh;
    served_wh += hour.served_inverted_wh;
    flat = hour.flat;
  }
  CHECK(served_wh == Approx(1680.0).margin(20.0));
}

TEST_CASE("a winter night of 16.75 h at 94 W takes such a box to about 6 %") {
  const Inverter inverter = usual_inverter();
  const Battery battery = box(2000.0);
  double stored_wh = battery.usable_wh();
  for (int h = 0; h < 17; ++h) {
    const double part = h < 16 ? 1.0 : 0.75;
    HourNeeds needs = alternating(94.0 * part);
    needs.inverter_on = part;
    stored_wh = step_hour(battery, &inverter, needs, {}, 0.0, stored_wh).stored_after_wh;
  }
  CHECK(stored_wh / battery.usable_wh() == Approx(0.06).margin(0.015));
}

TEST_CASE("two chargers of 1,200 W together fill the box in under two hours") {
  Battery battery = box(2000.0);
  battery.charge_limit_w = 2400.0;
  HourNeeds needs;
  needs.battery_c = 25.0;
  OutsidePower chargers;
  chargers.charger_w = 2400.0;
  double stored_wh = 0.0;
  for (int h = 0; h < 2; ++h) {
    stored_wh = step_hour(battery, nullptr, needs, chargers, 1.0, stored_wh).stored_after_wh;
  }
  CHECK(stored_wh == Approx(battery.usable_wh()));
}

TEST_CASE("600 W of panels give what campers see on their displays") {
  const double overcast = power_under_trees_w(100.0);
  CHECK(overcast >= 5.0);
  CHECK(overcast <= 20.0);
  for (const double thin_cloud : {450.0, 500.0}) {
    const double watts = power_under_trees_w(thin_cloud);
    CAPTURE(thin_cloud, watts);
    CHECK(watts >= 80.0);
    CHECK(watts <= 100.0);
  }
  const double sun = power_of_600_w(1000.0);
  CHECK(sun >= 500.0);
  CHECK(sun <= 570.0);
}
