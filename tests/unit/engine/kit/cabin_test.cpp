#include <string>

#include <catch2/catch.hpp>

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
  const Cabin<double> cabin = cabin_of(plan, 5, 0.0);
  CHECK(cabin.furnace_w == Approx(0.24 * 43.75));
  CHECK(24.0 * cabin.furnace_w == Approx(252.0));
  CHECK(cabin.held_c == Approx(20.0));
  CHECK(cabin.drifting_c == Approx(0.0).margin(1e-12));
}

TEST_CASE("gains of people and lamps spare the furnace") {
  const PreparedPlan plan = with_furnace(
      "gains_w = 300\n"
      R"(hold_c = [{ from = "00:00", to = "24:00", c = 20 }])");
  CHECK(cabin_of(plan, 5, 0.0).furnace_w == Approx(0.18 * 43.75));
  CHECK(cabin_of(plan, 5, 0.0).drifting_c == Approx(5.0));
  CHECK(cabin_of(plan, 5, 15.0).furnace_w == 0.0);        // 300 W hold 5 K by themselves
  CHECK(cabin_of(plan, 5, 18.0).held_c == Approx(23.0));  // a furnace never cools
}

TEST_CASE("a furnace that is too small runs all the time and the cabin stays colder") {
  const PreparedPlan plan = with_furnace(R"(hold_c = [{ from = "00:00", to = "24:00", c = 20 }])");
  const Cabin<double> cabin = cabin_of(plan, 5, -80.0);
  CHECK(cabin.furnace_w == Approx(43.75));
  CHECK(cabin.held_c == Approx(-80.0 + 5000.0 / 60.0));
}

TEST_CASE("a set-point of 0 C is a set-point") {
  const PreparedPlan plan = with_furnace(R"(hold_c = [{ from = "00:00", to = "24:00", c = 0 }])");
  CHECK(cabin_of(plan, 5, -10.0).furnace_w == Approx(0.12 * 43.75));
  CHECK(cabin_of(plan, 5, -10.0).held_c == Approx(0.0).margin(1e-12));
  CHECK(cabin_of(plan, 5, 1.0).furnace_w == 0.0);
}

TEST_CASE("outside its windows the furnace is off and the cabin at what else heats it") {
  const std::string night = R"(hold_c = [{ from = "22:00", to = "07:00", c = 14 }])";
  const PreparedPlan alone = with_furnace("gains_w = 120\n" + night);
  CHECK(cabin_of(alone, 12, 5.0).furnace_w == 0.0);
  CHECK(cabin_of(alone, 12, 5.0).held_c == Approx(7.0));
  CHECK(cabin_of(alone, 23, 5.0).held_c == Approx(14.0));

  const PreparedPlan stove = with_furnace("other_heat_c = 18\n" + night);
  CHECK(cabin_of(stove, 12, 5.0).held_c == Approx(18.0));
  CHECK(cabin_of(stove, 12, 5.0).drifting_c == Approx(18.0));  // needs no power
  CHECK(cabin_of(stove, 12, 25.0).held_c == Approx(25.0));
  CHECK(cabin_of(stove, 2, 5.0).held_c == Approx(14.0));
}

TEST_CASE("windows that share an hour share its furnace pro rata") {
  const PreparedPlan plan = with_furnace(
      R"(hold_c = [{ from = "06:00", to = "07:15", c = 20 }, { from = "07:15", to = "07:45", c = 10 }])");
  const Cabin<double> cabin = cabin_of(plan, 7, 0.0);
  CHECK(cabin.furnace_w == Approx((0.25 * 0.24 + 0.5 * 0.12) * 43.75).margin(1e-3));
  CHECK(cabin.held_c == Approx(0.25 * 20.0 + 0.5 * 10.0 + 0.25 * 0.0));
}

TEST_CASE("without a furnace a cabin is lived in at 15 C or more") {
  const PreparedPlan plan = with("[[load]]\nname = \"lamp\"\nwatts = 5\n");
  CHECK(cabin_of(plan, 3, -20.0).held_c == 15.0);
  CHECK(cabin_of(plan, 15, 31.0).held_c == 31.0);
  CHECK(cabin_of(plan, 3, -20.0).furnace_w == 0.0);
}

TEST_CASE("a fridge's share of time running follows its pairs, their last slope and the clip") {
  const PreparedPlan plan =
      with("[fridge]\nrunning_w = 50\nduty_at = [[20, 0.22], [30, 0.35], [38, 0.58]]\n");
  REQUIRE(plan.fridge);
  const auto duty = [&](double c) { return fridge_of(plan, c) / 50.0; };
  const double grid = 1e-6;
  CHECK(duty(20.0) == Approx(0.22).margin(grid));
  CHECK(duty(25.0) == Approx(0.285).margin(grid));
  CHECK(duty(36.5) == Approx(0.35 + 6.5 * 0.23 / 8.0).margin(grid));
  CHECK(duty(42.0) == Approx(0.58 + 4.0 * 0.23 / 8.0).margin(grid));
  CHECK(duty(5.0) == Approx(0.22).margin(grid));  // no colder than the first pair
  CHECK(duty(69.0) == Approx(1.0));               // never more than always
  CHECK(duty(200.0) == Approx(1.0));
  CHECK(fridge_of(plan, cabin_of(plan, 12, 30.0).held_c) == Approx(17.5).margin(1e-3));
}

TEST_CASE("a fridge of one pair runs the same in any weather") {
  const PreparedPlan plan = with("[fridge]\nrunning_w = 50\nduty_at = [[20, 0.3]]\n");
  for (const double c : {-10.0, 20.0, 45.0}) CHECK(fridge_of(plan, c) == Approx(15.0));
}

TEST_CASE("the cells are as warm as the cabin, as the air outside, or as a cabin without heat") {
  const std::string furnace =
      "[furnace]\nblower_w = 40\noutput_w = 5000\nheat_loss_w_per_k = 100\ngains_w = 100\n"
      "hold_c = [{ from = \"00:00\", to = \"24:00\", c = 16 }]\n";
  const PreparedPlan inside = with(furnace);
  const auto cells_at = [](const PreparedPlan& plan) {
    const StayTables tables(plan);
    const std::vector<double> no_loads;
    return hour_weather(
        tables.hours(), tables.hours().fridge, plan.hours[4], no_loads.data(),
        [](int) { return 1.0; }, -8.0);
  };
  CHECK(cells_at(inside).battery_c == Approx(16.0));
  CHECK(cells_at(inside).powerless_c == Approx(-7.0));

  PreparedPlan outside = inside;
  outside.battery.where = BatteryWhere::outside;
  CHECK(cells_at(outside).battery_c == -8.0);
  CHECK(cells_at(outside).powerless_c == -8.0);
}
