#include <string>

#include <catch2/catch.hpp>

#include "engine/cabin.hpp"
#include "tests/support/engine_plan.hpp"

using namespace dullspell;

namespace {

const std::string kHead = R"(
arrive = 2027-01-10T12:00:00
[[camp]]
place = "bishop-ca"
nights = 1
[battery]
capacity_wh = 1000
)";

PreparedPlan with(const std::string& tables) {
  return prepared_of(kHead + tables);
}

PreparedPlan with_furnace(const std::string& keys) {
  return with("[furnace]\nblower_w = 43.75\noutput_w = 5000\nheat_loss_w_per_k = 60\n" + keys);
}

}  // namespace

TEST_CASE("a furnace runs for the share of time that its heat loss needs") {
  // Common practice, no source: 60 W/K and 20 K ask for 1,200 W, 0.24 of 5 kW; 3.5 A at 12.5 V
  // then take 252 Wh a day.
  const PreparedPlan plan = with_furnace(R"(hold_c = [{ from = "00:00", to = "24:00", c = 20 }])");
  const CabinHour cabin = cabin_hour(plan, 5, 0.0);
  CHECK(cabin.furnace_w == Approx(0.24 * 43.75));
  CHECK(24.0 * cabin.furnace_w == Approx(252.0));
  CHECK(cabin.held_c == Approx(20.0));
  CHECK(cabin.drifting_c == Approx(0.0).margin(1e-12));
}

TEST_CASE("gains of people and lamps spare the furnace") {
  const PreparedPlan plan = with_furnace(
      "gains_w = 300\n"
      R"(hold_c = [{ from = "00:00", to = "24:00", c = 20 }])");
  CHECK(cabin_hour(plan, 5, 0.0).furnace_w == Approx(0.18 * 43.75));
  CHECK(cabin_hour(plan, 5, 0.0).drifting_c == Approx(5.0));
  CHECK(cabin_hour(plan, 5, 15.0).furnace_w == 0.0);        // 300 W hold 5 K by themselves
  CHECK(cabin_hour(plan, 5, 18.0).held_c == Approx(23.0));  // a furnace never cools
}

TEST_CASE("a furnace that is too small runs all the time and the cabin stays colder") {
  const PreparedPlan plan = with_furnace(R"(hold_c = [{ from = "00:00", to = "24:00", c = 20 }])");
  const CabinHour cabin = cabin_hour(plan, 5, -80.0);
  CHECK(cabin.furnace_w == Approx(43.75));
  CHECK(cabin.held_c == Approx(-80.0 + 5000.0 / 60.0));
}

TEST_CASE("a set-point of 0 C is a set-point") {
  const PreparedPlan plan = with_furnace(R"(hold_c = [{ from = "00:00", to = "24:00", c = 0 }])");
  CHECK(cabin_hour(plan, 5, -10.0).furnace_w == Approx(0.12 * 43.75));
  CHECK(cabin_hour(plan, 5, -10.0).held_c == Approx(0.0).margin(1e-12));
  CHECK(cabin_hour(plan, 5, 1.0).furnace_w == 0.0);
}

TEST_CASE("outside its windows the furnace is off and the cabin at what else heats it") {
  const std::string night = R"(hold_c = [{ from = "22:00", to = "07:00", c = 14 }])";
  const PreparedPlan alone = with_furnace("gains_w = 120\n" + night);
  CHECK(cabin_hour(alone, 12, 5.0).furnace_w == 0.0);
  CHECK(cabin_hour(alone, 12, 5.0).held_c == Approx(7.0));
  CHECK(cabin_hour(alone, 23, 5.0).held_c == Approx(14.0));

  const PreparedPlan stove = with_furnace("other_heat_c = 18\n" + night);
  CHECK(cabin_hour(stove, 12, 5.0).held_c == Approx(18.0));
  CHECK(cabin_hour(stove, 12, 5.0).drifting_c == Approx(18.0));  // needs no power
  CHECK(cabin_hour(stove, 12, 25.0).held_c == Approx(25.0));
  CHECK(cabin_hour(stove, 2, 5.0).held_c == Approx(14.0));
}

TEST_CASE("windows that share an hour share its furnace pro rata") {
  const PreparedPlan plan = with_furnace(
      R"(hold_c = [{ from = "06:00", to = "07:15", c = 20 }, { from = "07:15", to = "07:45", c = 10 }])");
  const CabinHour cabin = cabin_hour(plan, 7, 0.0);
  CHECK(cabin.furnace_w == Approx((0.25 * 0.24 + 0.5 * 0.12) * 43.75).margin(1e-3));
  CHECK(cabin.held_c == Approx(0.25 * 20.0 + 0.5 * 10.0 + 0.25 * 0.0));
}

TEST_CASE("without a furnace a cabin is lived in at 15 C or more") {
  const PreparedPlan plan = with("[[load]]\nname = \"lamp\"\nwatts = 5\n");
  CHECK(cabin_hour(plan, 3, -20.0).held_c == 15.0);
  CHECK(cabin_hour(plan, 15, 31.0).held_c == 31.0);
  CHECK(cabin_hour(plan, 3, -20.0).furnace_w == 0.0);
}

TEST_CASE("a fridge's share of time running follows its pairs, their last slope and the clip") {
  const PreparedPlan plan =
      with("[fridge]\nrunning_w = 50\nduty_at = [[20, 0.22], [30, 0.35], [38, 0.58]]\n");
  REQUIRE(plan.fridge);
  const auto duty = [&](double c) { return plan.fridge->power_at(c) / 50.0; };
  const double grid = 1e-6;
  CHECK(duty(20.0) == Approx(0.22).margin(grid));
  CHECK(duty(25.0) == Approx(0.285).margin(grid));
  CHECK(duty(36.5) == Approx(0.35 + 6.5 * 0.23 / 8.0).margin(grid));
  CHECK(duty(42.0) == Approx(0.58 + 4.0 * 0.23 / 8.0).margin(grid));
  CHECK(duty(5.0) == Approx(0.22).margin(grid));  // no colder than the first pair
  CHECK(duty(69.0) == Approx(1.0));               // never more than always
  CHECK(duty(200.0) == Approx(1.0));
  CHECK(cabin_hour(plan, 12, 30.0).fridge_w == Approx(17.5).margin(1e-3));
}

TEST_CASE("a fridge of one pair runs the same in any weather") {
  const PreparedPlan plan = with("[fridge]\nrunning_w = 50\nduty_at = [[20, 0.3]]\n");
  for (const double c : {-10.0, 20.0, 45.0}) CHECK(plan.fridge->power_at(c) == Approx(15.0));
}

TEST_CASE("the cells are as warm as the cabin, as the air outside, or as a cabin without heat") {
  const std::string furnace =
      "[furnace]\nblower_w = 40\noutput_w = 5000\nheat_loss_w_per_k = 100\ngains_w = 100\n"
      "hold_c = [{ from = \"00:00\", to = \"24:00\", c = 16 }]\n";
  const PreparedPlan inside = with(furnace);
  const CabinHour cabin = cabin_hour(inside, 4, -8.0);
  CHECK(battery_temperature_c(inside, cabin, -8.0, false) == Approx(16.0));
  CHECK(battery_temperature_c(inside, cabin, -8.0, true) == Approx(-7.0));

  PreparedPlan outside = inside;
  outside.battery.where = BatteryWhere::outside;
  CHECK(battery_temperature_c(outside, cabin, -8.0, false) == -8.0);
  CHECK(battery_temperature_c(outside, cabin, -8.0, true) == -8.0);
}

TEST_CASE("a battery that runs flat in a cold cabin wakes up frozen and takes no charge") {
  // Flat at 0:00 with the furnace holding 12 C at -15 C outside; from then on the cells are at
  // -15 C and the morning's sun finds no way in.
  PreparedPlan plan = prepared_of(R"(
arrive = 2027-01-10T20:00:00
[[camp]]
place = "bishop-ca"
nights = 1
[battery]
capacity_wh = 300
[[panels]]
rated_w = 1500
[furnace]
blower_w = 100
output_w = 6000
heat_loss_w_per_k = 200
hold_c = [{ from = "00:00", to = "24:00", c = 12 }]
)");
  const WatchedStay watched(plan, steady_sky({0.7, -15.0, 0.0}));
  const auto& hours = watched.hours.home();
  std::size_t first = 0;
  while (!hours[first].flow.flat) ++first;
  CHECK(hours[first].needs.battery_c == Approx(12.0));
  CHECK(hours[first + 1].needs.battery_c == Approx(-15.0));
  // The sun serves the blower directly in the end, and the heat comes back.
  const auto& last = hours.back();
  CHECK_FALSE(last.flow.flat);
  CHECK(last.needs.battery_c == Approx(12.0));
  CHECK(last.flow.to_battery_wh > 0.0);
}
