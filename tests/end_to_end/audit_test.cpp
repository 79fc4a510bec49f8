#include <filesystem>

#include <fmt/format.h>
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

TEST_CASE("an audit reads the display's own log and writes the corrected plan") {
  std::string log = "time,charge_percent,draw_w\n";
  // Three nights of 20 W and 15 W more from six to ten, days that fill up again.
  for (int night = 1; night <= 3; ++night) {
    double charge = 90.0;
    for (int hour = 18; hour < 32; ++hour) {
      const int draw_w = hour < 22 ? 35 : 20;
      for (const int minute : {0, 20, 40}) {
        log += fmt::format("2027-10-{:02} {:02}:{:02},{:.0f},{}\n", night + hour / 24, hour % 24,
                           minute, charge, draw_w);
        charge -= draw_w / 3.0 / 12.8;
      }
    }
  }
  const TemporaryFolder folder;
  const std::string plan = folder.write("van.toml", kVan), csv = folder.write("display.csv", log);
  const std::string written = folder.path("corrected.toml");
  const ProgramRun run =
      run_program({"audit", plan, "--stays", "2000", "--log", csv, "--write", written});
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("log: charge") && Contains("log: used") &&
                          Contains("The log has 2 gaps") && Contains("whole percents") &&
                          Contains("Go on with"));
  const ProgramRun json = run_program({"run", written, "--stays", "2000", "--json", "-"});
  INFO(json.err);
  REQUIRE(json.exit_code == 0);
  const Json corrected = Json::parse(json.out)["plan"];
  CHECK(corrected["load"][0]["watts"].get<double>() == Approx(20.0).epsilon(0.05));
  CHECK(corrected["load"][1]["watts"].get<double>() == Approx(15.0).epsilon(0.1));
  CHECK(corrected["guesses"]["standby"].get<double>() < 0.1);
  CHECK(!corrected.contains("reading"));
  CHECK_THAT(text_of(written), Contains("# was 33"));
}

TEST_CASE("options of an audit that do not go together are refused, and nothing is written") {
  const TemporaryFolder folder;
  const std::string plan = folder.write("van.toml", kVan);
  const std::string out = folder.path("out.toml");
  const auto refused = [&](const std::vector<std::string>& options) {
    std::vector<std::string> words{"audit", plan, "--stays", "100"};
    words.insert(words.end(), options.begin(), options.end());
    const ProgramRun run = run_program(words);
    CHECK(run.exit_code == 2);
    CHECK(run.out.empty());
    CHECK(!std::filesystem::exists(out));
    return run.err;
  };
  CHECK_THAT(refused({"--write", out}), Contains("no reading corrects the plan"));
  CHECK_THAT(refused({"--log-camp", "1"}), Contains("without --log"));
  CHECK_THAT(refused({"--log", folder.path("none.csv")}), Contains("there is no such log"));
  const std::string csv = folder.write("log.csv", "time,charge\n2027-10-01 21:00,0.9\n");
  CHECK_THAT(refused({"--log", csv}), Contains("holds nothing"));
  CHECK_THAT(refused({"--log", csv, "--log-camp", "2"}), Contains("--log-camp"));
  CHECK_THAT(refused({"--log", csv, "--log-counts", "watts"}), Contains("loads or battery"));
  CHECK_THAT(refused({"--write", out, "--set", "camp[1].canopy=0.3"}), Contains("besides --set"));
  CHECK_THAT(refused({"--write", plan}), Contains("--write"));
}

TEST_CASE("what is read from the plan's readings stands in its echo") {
  const ProgramRun run =
      run_program({"run", "-", "--stays", "500", "--json", "-"}, std::string(kVan) + kReadings);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  const Json readings = Json::parse(run.out)["plan"]["reading"];
  REQUIRE(readings.size() == 4);
  CHECK(readings[0] == Json{{"charge_to", 0.74},
                            {"charge_from", 0.92},
                            {"from", "2027-10-01T21:00:00"},
                            {"to", "2027-10-02T07:00:00"},
                            {"camp", 1}});
  CHECK(readings[1] ==
        Json{{"draw_w", 21.0}, {"at", "2027-10-01T23:30:00"}, {"camp", 1}, {"on", Json::array()}});
  CHECK(readings[2]["camp"] == "open");
  CHECK(readings[2]["sky"] == "clear");
}
