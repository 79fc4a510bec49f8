#include <cmath>
#include <fstream>
#include <sstream>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/run_program.hpp"

namespace dullspell::generator_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

namespace {

const std::string kDemo = project_file("datasets/plans/two-forest-camps.toml");

Json json_of(std::vector<std::string> arguments) {
  arguments.insert(arguments.end(), {"--json", "-"});
  const ProgramRun run = run_program(arguments);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  return Json::parse(run.out);
}

}  // namespace

TEST_CASE("the generator's command says when to start and how far to run") {
  const ProgramRun run = run_program({"generator", kDemo, "--stays", "2000"});
  CHECK(run.exit_code == 0);
  CHECK(run.err.empty());
  CHECK_THAT(run.out, Contains("Follow the table") && Contains("When to run it") &&
                          Contains("start below") && Contains("19:00") &&
                          Contains("More and less careful rules") && Contains("Carbon monoxide") &&
                          Contains("2,000 stays, seed 1"));
}

TEST_CASE("a rule that is written into a plan gives the same risk in a run") {
  const TemporaryFolder folder;
  const std::string levels = folder.path("levels.toml");
  const Json found = json_of({"generator", kDemo, "--stays", "4000", "--levels", levels});
  std::string plan = text_of(kDemo);
  const std::string rule = "rule      = \"night\"\n";
  const auto at = plan.find(rule);
  REQUIRE(at != std::string::npos);
  plan.erase(at, rule.size());
  // The lines belong to the last table of the plan, [generator].
  const std::string own = folder.write("own.toml", plan + text_of(levels));
  const Json run = json_of({"run", own, "--stays", "4000"});
  CHECK(run["plan"]["generator"]["rule"] == "levels");
  CHECK(run["generator"]["flat"]["p"].get<double>() ==
        Approx(found["flat"]["p"].get<double>()).margin(0.004));
  CHECK(run["generator"]["hours"]["mean"].get<double>() ==
        Approx(found["hours"]["mean"].get<double>()).epsilon(0.02));
  CHECK(found["hours"]["mean"] ==
        json_of({"run", kDemo, "--stays", "4000"})["generator"]["hours"]["mean"]);
}

TEST_CASE("at camp the command tells what to look at next") {
  const ProgramRun run =
      run_program({"generator", kDemo, "--stays", "1000", "--set", "now=2027-05-24T16:00:00",
                   "--set", "battery.start_charge=0.35"});
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("Look again on Mon 24 May at 17:00: start it below"));
  const ProgramRun empty =
      run_program({"generator", kDemo, "--stays", "1000", "--set", "now=2027-05-24T17:00:00",
                   "--set", "battery.start_charge=0.05"});
  CHECK_THAT(empty.out, Contains("Start it now: at 5 % you are below the"));
}

TEST_CASE("without a generator there is nothing to say when to run") {
  const ProgramRun run =
      run_program({"generator", project_file("datasets/plans/long-weekend.toml")});
  CHECK(run.exit_code == 2);
  CHECK(run.out.empty());
  CHECK_THAT(run.err, Contains("has no generator"));
}

TEST_CASE("a rule of levels without levels is refused, and so is one at half an hour") {
  const ProgramRun none = run_program({"run", kDemo, "--set", "generator.rule=\"levels\""});
  CHECK(none.exit_code == 2);
  CHECK_THAT(none.err, Contains("[[generator.level]]"));
  const TemporaryFolder folder;
  const std::string plan =
      folder.write("plan.toml", text_of(kDemo) +
                                    "[[generator.level]]\nat = 2027-05-21T17:30:00\n"
                                    "start_below = 0.5\nstop_at = 0.4\n");
  const ProgramRun half = run_program({"run", plan});
  CHECK(half.exit_code == 2);
  CHECK_THAT(half.err, Contains("level[1].at") && Contains("whole hour"));
}

TEST_CASE("a stay fails by the hours flat that are accepted") {
  double last = 1.0;
  for (const char* hours : {"0", "2", "6", "12", "18"}) {
    const Json run =
        json_of({"run", kDemo, "--stays", "2000", "--set", std::string("accept_flat_h=") + hours});
    const double flat = run["stay"]["flat"]["p"];
    CHECK(flat <= last);
    CHECK(run["plan"]["accept_flat_h"] == std::stoi(hours));
    last = flat;
  }
  CHECK(last < 0.3);
}

}  // namespace dullspell::generator_test
