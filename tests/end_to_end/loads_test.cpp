#include <string>
#include <vector>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/run_program.hpp"

using namespace dullspell::test;
using Catch::Matchers::Contains;

// Loads as people know them, through the program.

namespace {

std::string plan_with(const std::string& tables) {
  return R"(title = "Winter by the river, invented"
arrive = 2027-12-18T15:00:00
[[camp]]
place = { latitude = 64.84, longitude = -147.72 }
nights = 4
[battery]
capacity_wh = 1920
[inverter]
rated_w = 1500
[[panels]]
rated_w = 300
)" + tables;
}

std::string answer(const std::vector<std::string>& words, const std::string& plan) {
  const ProgramRun run = run_program(words, plan);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  return run.out;
}

}  // namespace

TEST_CASE("a kettle four times four minutes is a kettle sixteen minutes a day, to the byte") {
  const std::string kettle = "[[load]]\nname = \"kettle\"\nside = \"ac\"\nwatts = 1200\n";
  const std::string hours = plan_with(kettle + "hours_per_day = \"16 min\"\n");
  const std::string minutes = plan_with(kettle + "minutes_per_day = 16\n");
  const std::string times = plan_with(kettle + "times_per_day = 4\nminutes_each = 4\n");
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"run", "-", "--stays", "300", "--json", "-"},
        {"budget", "-"},
        {"levers", "-", "--stays", "200"}}) {
    CAPTURE(words);
    const std::string expected = answer(words, hours);
    CHECK(answer(words, minutes) == expected);
    CHECK(answer(words, times) == expected);
  }
  CHECK_THAT(answer({"budget", "-"}, times), Contains("320 Wh"));
}

TEST_CASE(
    "a load that runs day and night takes more watts on dull days, and no more on clear ones") {
  // 92 h of 20 W, and half as much again.
  const std::string plan =
      "arrive = 2027-06-18T15:00:00\n[[camp]]\nplace = \"crescent-city-ca\"\nnights = 4\n"
      "[battery]\ncapacity_wh = 5000\n[[load]]\nname = \"screen\"\nwatts = 20\n"
      "dull_day_factor = 1.5\n";
  const auto demand_wh = [&](const std::string& k) {
    std::string forecast;
    for (int day = 1; day <= 5; ++day) {
      forecast +=
          "[[forecast]]\nday = " + std::to_string(day) + "\nk = " + k + "\nk_spread = 0.01\n";
    }
    const auto result = nlohmann::json::parse(
        answer({"run", "-", "--stays", "300", "--json", "-"}, plan + forecast));
    CHECK(result["plan"]["load"][0]["dull_day_factor"] == 1.5);
    return result["stay"]["demand_wh"].get<double>();
  };
  CHECK(demand_wh("0.2") == Approx(2760.0));
  CHECK(demand_wh("0.6") == Approx(1840.0));
}

TEST_CASE("lights of the dark take more in a northern December than in June") {
  const std::string lights =
      "[[load]]\nname = \"lights\"\nwatts = 10\nonly = \"dark\"\nbetween = [\"06:00\", "
      "\"23:00\"]\n";
  const auto use_wh = [&](const std::string& plan) {
    const auto result =
        nlohmann::json::parse(answer({"run", "-", "--stays", "200", "--json", "-"}, plan));
    CHECK(result["plan"]["load"][0]["only"] == "dark");
    for (const auto& line : result["budget"]) {
      if (line["name"] == "lights") return line["wh_per_day"].get<double>();
    }
    return 0.0;
  };
  const std::string december = plan_with(lights);
  std::string june = december;
  june.replace(june.find("2027-12-18"), 10, "2027-06-18");
  // 13.3 of the 17 waking hours are dark on a whole day of December (sun from 10:58 to 14:40, from
  // memory); the stay begins at 15:00 and ends at 11:00.
  CHECK(use_wh(december) == Approx(10.0 * (8 + 3 * 13.3 + 5) / 92 * 24).epsilon(0.02));
  CHECK(use_wh(june) == 0.0);
}
