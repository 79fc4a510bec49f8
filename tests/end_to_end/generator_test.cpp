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

namespace {

// Long dark days under trees: the generator runs in nearly every stay.
const std::string kPropanePlan = R"(
title = "Three nights on propane, invented"
arrive = 2027-12-10T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 3
canopy = 0.6
[battery]
capacity_wh = 1000
[[panels]]
rated_w = 200
[[load]]
name = "fridge and standby"
watts = 40
[generator]
rated_w = 1000
charger_w = 500
allowed = [["08:00", "10:00"], ["17:00", "20:00"]]
fuel = "propane"
tank_lb = 20
)";

Json run_of(const std::string& plan) {
  const ProgramRun run = run_program({"run", "-", "--stays", "2000", "--json", "-"}, plan);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  return Json::parse(run.out);
}

}  // namespace

TEST_CASE("propane is told by weight, in kilograms or pounds") {
  const Json run = run_of(kPropanePlan);
  const Json& plan = run["plan"]["generator"];
  CHECK(plan["fuel"] == "propane");
  CHECK(plan["tank_kg"] == 9.0718474);
  CHECK(plan["fuel_kg_per_kwh"] == 0.245);
  CHECK(plan["fuel_kg_per_h_idle"] == 0.077);
  const Json& burnt = run["generator"];
  // All hours at the charger's full 500 W burn so much, with the charger's loss of 12 %; those in
  // which the battery takes less, down to what turning alone burns.
  const double hours = burnt["hours"]["mean"], kg = burnt["fuel_kg"]["mean"];
  CHECK(hours > 2.0);
  CHECK(kg < hours * (0.077 + 0.5 / 0.88 * 0.245) + 1e-6);
  CHECK(kg > hours * 0.077);
  CHECK(kg == Approx(burnt["fuel_l"]["mean"].get<double>() * 0.51));

  const auto text = [](std::vector<std::string> more) {
    std::vector<std::string> arguments{"run", "-", "--stays", "2000"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run_program(arguments, kPropanePlan).out;
  };
  CHECK_THAT(text({}), Contains("generator 1000 W on propane") &&
                           Contains("kilograms of propane") && Contains("tanks of 9.07 kg") &&
                           !Contains(" L "));
  CHECK_THAT(text({}), Contains(" kg of propane to have enough in 90 of 100 stays") &&
                           Contains("Propane is heavier than air") &&
                           !Contains("cool before you refuel"));
  CHECK_THAT(text({"--units", "us"}),
             Contains("pounds of propane") && Contains("tanks of 20 lb") && !Contains(" gal"));
  const ProgramRun levels =
      run_program({"generator", "-", "--stays", "2000", "--json", "-"}, kPropanePlan);
  CHECK(levels.exit_code == 0);
  CHECK(Json::parse(levels.out)["fuel_kg"] == burnt["fuel_kg"]);
}

TEST_CASE("the fuel changes what is burnt and nothing else, and gasoline is what is not stated") {
  const auto with_fuel = [](const std::string& lines) {
    std::string plan = kPropanePlan;
    return run_of(plan.replace(plan.find("fuel = "), std::string::npos, lines));
  };
  const Json unstated = with_fuel(""), gasoline = with_fuel("fuel = \"gasoline\"\n"),
             diesel = with_fuel("fuel = \"diesel\"\n");
  CHECK(unstated == gasoline);
  CHECK_FALSE(gasoline["generator"].contains("fuel_kg"));
  CHECK(diesel["stay"] == gasoline["stay"]);
  CHECK(diesel["generator"]["hours"] == gasoline["generator"]["hours"]);
  CHECK(diesel["generator"]["fuel_l"]["mean"] < gasoline["generator"]["fuel_l"]["mean"]);
}

TEST_CASE("plans on fuels by weight and by volume are compared, each in its unit") {
  const TemporaryFolder folder;
  const std::string propane = folder.write("propane.toml", kPropanePlan);
  std::string plan = kPropanePlan;
  plan.resize(plan.find("fuel = "));
  const std::string gasoline = folder.write("gasoline.toml", plan);
  const ProgramRun mixed = run_program({"compare", propane, gasoline, "--stays", "1000"});
  CHECK(mixed.exit_code == 0);
  CHECK_THAT(mixed.out, Contains("fuel typical") && Contains(" kg ") && Contains(" L "));
  const ProgramRun alike = run_program({"compare", propane, propane, "--stays", "1000"});
  CHECK_THAT(alike.out, Contains("kg typical") && !Contains("L typical"));
  const Json both = json_of({"compare", propane, gasoline, "--stays", "1000"});
  CHECK(both["plans"][0]["generator"].contains("fuel_kg"));
  CHECK_FALSE(both["plans"][1]["generator"].contains("fuel_kg"));
}

TEST_CASE("keys of another fuel's measure are refused, with the one that fits") {
  const auto message = [](const std::string& line) {
    const ProgramRun run = run_program({"run", "-"}, kPropanePlan + line);
    CHECK(run.exit_code == 2);
    CHECK(run.out.empty());
    return run.err;
  };
  CHECK_THAT(message("fuel_gal_per_kwh = 0.1\n"),
             Contains("generator.fuel_gal_per_kwh does not go with propane") &&
                 Contains("fuel_kg_per_kwh") && Contains("bought by weight"));
  const ProgramRun gasoline = run_program({"run", kDemo, "--set", "generator.tank_kg=9"});
  CHECK(gasoline.exit_code == 2);
  CHECK_THAT(gasoline.err, Contains("generator.tank_kg does not go with gasoline") &&
                               Contains("tank_l") && Contains("fuel = \"propane\""));
}

TEST_CASE("what height, heat and propane leave of the generator is told where it bites") {
  const auto run = [](const std::vector<std::string>& settings) {
    std::vector<std::string> arguments{"run", "-", "--stays", "500"};
    for (const std::string& setting : settings) {
      arguments.insert(arguments.end(), {"--set", setting});
    }
    return run_program(arguments, kPropanePlan).out;
  };
  // 500 W into the battery take 568 W of the charger.
  CHECK_THAT(run({}), !Contains("at the camp where it gives least"));
  CHECK_THAT(run({"generator.rated_w=600"}),
             Contains("Of the generator's 600 W there are 540 W left") &&
                 Contains("in place of gasoline takes 10 %"));
  CHECK_THAT(run({"generator.rated_w=600", "generator.rated_on=\"propane\""}),
             !Contains("at the camp where it gives least"));
  const Json high = json_of({"run", kDemo, "--stays", "500", "--set", "camp[2].elevation_m=2500"});
  CHECK(high["plan"]["generator"]["rated_w"] == 1800.0);
  CHECK(high["plan"]["generator"]["gives_w"].get<double>() == Approx(1800.0 * 0.748).margin(1.0));
}

}  // namespace dullspell::generator_test
