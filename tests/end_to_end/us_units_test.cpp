#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "tests/support/run_program.hpp"

using namespace dullspell::test;
using Catch::Matchers::Contains;

namespace {

// An invented trip. All its values in US units are whole numbers, halves or so many sixteenths, for
// which the metric number ends after some digits: the program's conversion, one division of numbers
// without rounding, and the reading of those digits end at the same double.
const std::string kUs = R"(
title = "By the stove, an invented trip"
arrive = "2027-11-05 3 pm"
leave = "11 AM"
accept_risk = "10 %"
[[camp]]
place = "bishop-ca"
nights = 2
canopy = "41 %"
elevation_ft = 5000
[[camp]]
place = "daggett-ca"
nights = 1
drive_in_h = "1:30"
temp_mean_f = [14, 23, 32, 41, 50, 59, 68, 77, 59, 50, 41, 32]
[battery]
capacity_wh = 1280
health = "95 %"
start_charge = "90%"
where = "outside"
charge_min_f = 23
[[panels]]
rated_w = 200
losses = "8 %"
[fridge]
running_w = 50
duty_at_f = [[68, "22 %"], [86, "35 %"], [104, "58 %"]]
[furnace]
blower_w = 60
output_btu_h = 36000
heat_loss_btu_h_per_f = 200
gains_btu_h = 1800
other_heat_f = 41
hold_f = [{ from = "10 pm", to = "7 am", f = 59 }, { from = "5:30 pm", to = "10 pm", f = 68 }]
[generator]
rated_w = 1000
charger_w = 400
allowed = [["8 am", "10 am"], ["5 pm", "8:30 PM"]]
min_run_h = "30 min"
fuel_gal_per_h_idle = 0.0625
fuel_gal_per_kwh = 0.125
tank_gal = 1
[[load]]
name = "lamp"
watts = 12
hours_per_day = "2 h 30 min"
between = ["6 pm", "11 pm"]
[[option]]
name = "two boxes"
battery_wh = 2560
weight_lb = 100
)";

const std::string kMetric = R"(
title = "By the stove, an invented trip"
arrive = 2027-11-05T15:00:00
leave = "11:00"
accept_risk = 0.1
[[camp]]
place = "bishop-ca"
nights = 2
canopy = 0.41
elevation_m = 1524
[[camp]]
place = "daggett-ca"
nights = 1
drive_in_h = 1.5
temp_mean_c = [-10, -5, 0, 5, 10, 15, 20, 25, 15, 10, 5, 0]
[battery]
capacity_wh = 1280
health = 0.95
start_charge = 0.9
where = "outside"
charge_min_c = -5
[[panels]]
rated_w = 200
losses = 0.08
[fridge]
running_w = 50
duty_at = [[20, 0.22], [30, 0.35], [40, 0.58]]
[furnace]
blower_w = 60
output_w = 10550.5585262
heat_loss_w_per_k = 105.505585262
gains_w = 527.52792631
other_heat_c = 5
hold_c = [{ from = "22:00", to = "07:00", c = 15 }, { from = "17:30", to = "22:00", c = 20 }]
[generator]
rated_w = 1000
charger_w = 400
allowed = [["08:00", "10:00"], ["17:00", "20:30"]]
min_run_h = 0.5
fuel_l_per_h_idle = 0.2365882365
fuel_l_per_kwh = 0.473176473
tank_l = 3.785411784
[[load]]
name = "lamp"
watts = 12
hours_per_day = 2.5
between = ["18:00", "23:00"]
[[option]]
name = "two boxes"
battery_wh = 2560
weight_kg = 45.359237
)";

std::string answer(const std::vector<std::string>& arguments, const std::string& plan) {
  const ProgramRun run = run_program(arguments, plan);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  return run.out;
}

}  // namespace

TEST_CASE("a plan in US units gives what its metric twin gives, to the byte") {
  const std::vector<std::vector<std::string>> questions{
      {"run", "-", "--stays", "300", "--json", "-"},
      {"run", "-", "--stays", "300"},
      {"run", "-", "--stays", "300", "--units", "us"},
      {"size", "-", "--stays", "200", "--json", "-"},
      {"size", "-", "--stays", "200"},
      {"budget", "-"}};
  for (const auto& words : questions) {
    CAPTURE(words);
    CHECK(answer(words, kUs) == answer(words, kMetric));
  }
}

TEST_CASE("results of a plan in US units are metric, and in US units where they are asked for") {
  const std::string json = answer({"run", "-", "--stays", "200", "--json", "-"}, kUs);
  for (const char* part : {"\"elevation_m\": 1524", "\"output_w\": 10550.5585262",
                           "\"tank_l\": 3.785411784", "\"hours_per_day\": 2.5"}) {
    CHECK_THAT(json, Contains(part));
  }
  CHECK_THAT(json, !Contains("elevation_ft") && !Contains("btu"));
  CHECK_THAT(answer({"run", "-", "--stays", "200"}, kUs), Contains(" 3.79 L"));
  CHECK_THAT(answer({"run", "-", "--stays", "200", "--units", "us"}, kUs), Contains("1 gal"));
}

TEST_CASE("a setting in a US unit is worth its metric one") {
  const auto run = [](const std::string& setting) {
    const std::string json =
        answer({"run", "-", "--stays", "200", "--json", "-", "--set", setting}, kMetric);
    // All but the setting itself, which the result repeats.
    const auto at = json.find(setting);
    REQUIRE(at != std::string::npos);
    return json.substr(0, at) + json.substr(at + setting.size());
  };
  CHECK(run("camp[1].elevation_ft=1000") == run("camp[1].elevation_m=304.8"));
  CHECK(run("furnace.heat_loss_btu_h_per_f=400") == run("furnace.heat_loss_w_per_k=211.011170524"));
  CHECK(run("camp[1].canopy=25 %") == run("camp[1].canopy=0.25"));
  CHECK(run("camp[1].elevation_ft=1000") != run("camp[1].elevation_m=1524"));
}
