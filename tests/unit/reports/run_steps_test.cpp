#include "reports/run_steps.hpp"

#include <catch2/catch.hpp>

#include "engine/plan/plan_file.hpp"
#include "engine/study/prepare.hpp"

using namespace dullspell;

namespace {

// What is said of the fuel where stays burn so much, L.
std::optional<std::string> fuel_said(double p90_l, double p99_l, const std::string& keys,
                                     Units units = Units::metric) {
  const Plan plan = parse_plan({"plan.toml", R"(
arrive = 2027-05-21T15:00:00
[[camp]]
place = "bishop-ca"
nights = 2
[battery]
capacity_wh = 1000
[[load]]
name = "lamp"
watts = 10
[generator]
rated_w = 1000
charger_w = 500
allowed = [["17:00", "20:00"]]
)" + keys},
                               PlaceCatalogue::built_in(), {});
  const PreparedPlan prepared = prepare(plan);
  StudyResult result;
  result.generator.emplace();
  result.generator->fuel_l = {0.5 * p90_l, 0.5 * p90_l, p90_l, p99_l};
  const Budget budget = expected_budget(prepared);
  return fuel_text({plan, prepared, result, budget, nullptr, nullptr, units});
}

}  // namespace

TEST_CASE("how much fuel to carry is said for 90 and for 99 of 100 stays") {
  CHECK(fuel_said(3.2, 5.1, "") ==
        "Carry 3.2 L of gasoline to have enough in 90 of 100 stays, 5.1 L in 99.");
  CHECK(fuel_said(3.785411784, 7.570823568, "fuel = \"diesel\"\n", Units::us) ==
        "Carry 1.00 gal of diesel to have enough in 90 of 100 stays, 2.00 gal in 99.");
  CHECK(fuel_said(2.0, 4.0, "tank_l = 4\n") ==
        "Carry 2.0 L of gasoline to have enough in 90 of 100 stays, 4.0 L in 99. That is 0.5 and "
        "1.0 tanks of 4 L.");
  CHECK(fuel_said(propane_l(4.5), propane_l(18.0), "fuel = \"propane\"\ntank_kg = 9\n") ==
        "Carry 4.5 kg of propane to have enough in 90 of 100 stays, 18.0 kg in 99. That is 0.5 and "
        "2.0 tanks of 9 kg.");
}

TEST_CASE("where few stays burn any, that is said too, and nothing where none do") {
  CHECK(fuel_said(0.0, 2.0, "tank_l = 4\n") ==
        "Carry 2.0 L of gasoline to have enough in 99 of 100 stays; 90 of them burn hardly any. "
        "That is 0.5 tanks of 4 L.");
  CHECK_FALSE(fuel_said(0.0, 0.0, ""));
}
