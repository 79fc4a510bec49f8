#include <fstream>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/run_program.hpp"

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

namespace {

// A van whose list says half again what it uses.
const char* kVan = R"(
title = "A van in the forest, invented"
arrive = 2027-10-08T16:00:00
[[camp]]
place = "Crescent City, CA"
nights = 3
canopy = 0.4
[battery]
capacity_wh = 1280
[[panels]]
rated_w = 200
[[load]]
name = "fridge and standby"
watts = 33
[[load]]
name = "lights"
watts = 15
hours_per_day = 4
between = ["18:00", "23:00"]
)";

const char* kReadings = R"(
[[reading]]
charge_from = 0.92
charge_to = 0.74
from = 2027-10-01T21:00:00
to = 2027-10-02T07:00:00
[[reading]]
draw_w = 21
at = 2027-10-01T23:30:00
on = []
[[reading]]
panels_w = 118
at = 2027-10-02T13:00:00
camp = "open"
sky = "clear"
[[reading]]
panels_w = 41
at = 2027-10-02T13:10:00
sky = "clear"
)";

}  // namespace

TEST_CASE("an audit without readings is a list of those worth taking") {
  const ProgramRun run = run_program({"audit", "-", "--stays", "2000"}, kVan);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("No readings yet") && Contains("in this order") &&
                          Contains("`draw_w`") && Contains("`camp = 1`"));
}

TEST_CASE("an audit sets the display beside the list and corrects the figures") {
  const std::string plan = std::string(kVan) + kReadings;
  const ProgramRun run = run_program({"audit", "-", "--stays", "2000"}, plan);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("By the list") && Contains("by the display") &&
                          Contains("92 % → 74 %") && Contains("fridge and standby") &&
                          Contains("The next reading worth taking"));
  const ProgramRun json = run_program({"audit", "-", "--stays", "2000", "--json", "-"}, plan);
  REQUIRE(json.exit_code == 0);
  const Json result = Json::parse(json.out);
  CHECK(result["converged"] == true);
  CHECK(result["readings"].size() == 4);
  CHECK(result["flat_corrected"]["p"] < result["flat_by_list"]["p"]);
  const Json& standby = result["figures"][0];
  CHECK(standby["name"] == "fridge and standby");
  CHECK(standby["corrected"] < 24.0);
  CHECK(standby["corrected"] > 19.0);
  for (const Json& reading : result["readings"])
    CHECK(std::abs(reading["off_by"].get<double>()) < 3.0);

  // The other commands go by the same figures.
  const ProgramRun other =
      run_program({"run", "-", "--stays", "2000", "--doubt", "--json", "-"}, plan);
  INFO(other.err);
  REQUIRE(other.exit_code == 0);
  const Json ran = Json::parse(other.out);
  CHECK(ran["stay"]["flat"]["p"] == result["flat_corrected"]["p"]);
  const ProgramRun listed =
      run_program({"run", "-", "--stays", "2000", "--doubt", "--json", "-"}, kVan);
  REQUIRE(listed.exit_code == 0);
  const auto width = [](const Json& r) {
    return r["guesses"]["flat"]["high"].get<double>() - r["guesses"]["flat"]["low"].get<double>();
  };
  CHECK(width(ran) < width(Json::parse(listed.out)));
  CHECK_THAT(run_program({"run", "-", "--stays", "2000"}, plan).out,
             Contains("4 readings of the display correct the plan's figures"));
}

TEST_CASE("an audit names the reading that does not fit, and the slip behind it") {
  std::string plan = std::string(kVan) + kReadings;
  plan.replace(plan.find("charge_from = 0.92"), 18, "charge_from = 0.74");
  plan.replace(plan.find("charge_to = 0.74"), 16, "charge_to = 0.92");
  const ProgramRun run = run_program({"audit", "-", "--stays", "1000"}, plan);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("Check reading 1") && Contains("look swapped"));
}
