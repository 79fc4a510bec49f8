#include <string>
#include <vector>

#include <catch2/catch.hpp>

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
