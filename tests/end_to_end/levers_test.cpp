#include <algorithm>
#include <sstream>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/run_program.hpp"

namespace dullspell::levers_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

namespace {

const std::string kDemo = project_file("datasets/plans/two-forest-camps.toml");

ProgramRun levers(std::vector<std::string> arguments, const std::string& input = "") {
  arguments.insert(arguments.begin(), "levers");
  return run_program(arguments, input);
}

Json levers_json(std::vector<std::string> arguments) {
  arguments.insert(arguments.end(), {"--json", "-"});
  const ProgramRun run = levers(arguments);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  return Json::parse(run.out);
}

}  // namespace

TEST_CASE("levers of every demo plan say the best change first, within the page's width") {
  for (const auto* name : {"two-forest-camps", "winter-desert", "long-weekend"}) {
    INFO(name);
    const ProgramRun run =
        levers({project_file("datasets/plans/" + std::string(name) + ".toml"), "--stays", "2000"});
    CHECK(run.exit_code == 0);
    CHECK(run.err.empty());
    CHECK_THAT(run.out, Contains("cuts the risk by ") && Contains("One change at a time") &&
                            Contains("the plan as it is") && Contains("medical devices stay on") &&
                            Contains("Carbon monoxide") && Contains("2,000 stays, seed 1"));
    std::istringstream lines(run.out);
    for (std::string line; std::getline(lines, line);) {
      CAPTURE(line);
      CHECK(std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; }) <=
            92);
    }
  }
}

TEST_CASE("a lever's figure is that of a run of the changed plan") {
  const Json found = levers_json({kDemo, "--stays", "2000"});
  CHECK(found["format"] == "dullspell.levers/1");
  const auto flat = [&](const std::string& kind, const Json& subject) {
    for (const auto& lever : found["levers"]) {
      if (lever["kind"] == kind && lever["subject"] == subject)
        return lever["flat"]["p"].get<double>();
    }
    FAIL(kind << " is no lever");
    return -1.0;
  };
  const auto run = [&](std::vector<std::string> settings) {
    std::vector<std::string> arguments{"run", kDemo, "--stays", "2000", "--json", "-"};
    for (const auto& s : settings) arguments.insert(arguments.end(), {"--set", s});
    const ProgramRun out = run_program(arguments);
    INFO(out.err);
    REQUIRE(out.exit_code == 0);
    return Json::parse(out.out);
  };
  CHECK(found["flat_home"]["p"] == run({})["stay"]["flat"]["p"]);
  CHECK(flat("more_battery", nullptr) == run({"battery.capacity_wh=2420"})["stay"]["flat"]["p"]);
  CHECK(flat("load_halved", "laptop") == run({"load[4].hours_per_day=2"})["stay"]["flat"]["p"]);
  CHECK(flat("cooler_furnace", nullptr) == run({"furnace.hold_c[1].c=9"})["stay"]["flat"]["p"]);
  CHECK(flat("shorter_stay", nullptr) == run({"camp[2].nights=2"})["stay"]["flat"]["p"]);
}

TEST_CASE("the figure of a lent generator is that of a run with it in the plan") {
  const std::string weekend = project_file("datasets/plans/long-weekend.toml");
  const Json found = levers_json({weekend, "--stays", "2000"});
  const auto& levers = found["levers"];
  const auto hour = std::find_if(levers.begin(), levers.end(), [](const Json& lever) {
    return lever["kind"] == "generator_hour";
  });
  REQUIRE(hour != levers.end());
  const ProgramRun run = run_program(
      {"run", weekend, "--stays", "2000", "--json", "-", "--set",
       "generator={rated_w=1000, charger_w=500, fuel_l_per_h_idle=0.11, fuel_l_per_kwh=0.35, "
       "rule=\"below\", start_below=0.99, stop_at=1.0, min_run_h=1, allowed=[[\"17:00\", "
       "\"18:00\"]]}"});
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  CHECK((*hour)["flat"]["p"] == Json::parse(run.out)["generator"]["flat"]["p"]);
}

TEST_CASE("levers do not depend on threads, and --top shortens the table alone") {
  const auto result = [](const char* threads) {
    return levers({kDemo, "--stays", "1500", "--threads", threads, "--json", "-"}).out;
  };
  CHECK(result("1") == result("3"));
  const std::string all = levers({kDemo, "--stays", "400"}).out;
  const std::string top = levers({kDemo, "--stays", "400", "--top", "2"}).out;
  CHECK_THAT(top, Contains("more (--top "));
  CHECK_THAT(all, !Contains("more (--top "));
  CHECK(top.size() < all.size());
  CHECK(levers_json({kDemo, "--stays", "400", "--top", "2"}) ==
        levers_json({kDemo, "--stays", "400"}));
}

TEST_CASE("levers as CSV have one line each, all of the same length") {
  const std::size_t count = levers_json({kDemo, "--stays", "200"})["levers"].size();
  const ProgramRun run = levers({kDemo, "--stays", "200", "--csv", "-"});
  std::istringstream lines(run.out);
  std::string header, line;
  std::getline(lines, header);
  std::size_t rows = 0;
  while (std::getline(lines, line)) {
    ++rows;
    // Commas within quotes are the text's own.
    std::size_t fields = 1;
    bool quoted = false;
    for (const char c : line) {
      quoted ^= c == '"';
      fields += c == ',' && !quoted;
    }
    CAPTURE(line);
    CHECK(fields == 1 + static_cast<std::size_t>(std::count(header.begin(), header.end(), ',')));
  }
  CHECK(rows == count);
}

TEST_CASE("levers of a plan that never runs flat say that there is nothing to take off") {
  const Json found = levers_json({kDemo, "--stays", "200", "--set", "battery.capacity_wh=100000"});
  CHECK(found["verdict"] ==
        "With the generator left at home the battery runs flat in none of 200 stays: there is "
        "nothing to take off.");
}

TEST_CASE("levers that cannot be found are refused, with nothing written") {
  const TemporaryFolder folder;
  const auto refused = [&](std::vector<std::string> arguments, const std::string& says) {
    const ProgramRun run = levers(arguments);
    INFO(run.err);
    CHECK(run.exit_code == 2);
    CHECK(run.out.empty());
    CHECK_THAT(run.err, Contains(says));
  };
  refused({}, "PLAN is required");
  refused({"none.toml"}, "there is no such plan file");
  refused({kDemo, "--precision", "0.01"}, "--precision is given");
  refused({kDemo, "--top", "0"}, "--top is `0`; allowed: a whole number from 1 to 1000");
  refused({kDemo, "--stays", "none"}, "--stays is `none`");
  refused({kDemo, "--set", "load[9].watts=1"}, "load");
  refused({kDemo, "--csv", "-", "--json", "-"}, "--csv is `-`, as --json is");
  refused({"none.toml", "--csv", folder.path("levers.csv")}, "no such plan file");
  CHECK(folder.entries() == 0);
}

}  // namespace dullspell::levers_test
