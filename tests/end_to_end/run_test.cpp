#include <cmath>

#include <fmt/format.h>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/example_after.hpp"
#include "tests/support/run_program.hpp"

namespace dullspell::run_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Json = nlohmann::json;

namespace {

const std::string kDemo = project_file("datasets/plans/two-forest-camps.toml");

Json run_json(std::vector<std::string> arguments) {
  arguments.insert(arguments.begin(), {"run"});
  arguments.insert(arguments.end(), {"--json", "-"});
  const ProgramRun run = run_program(arguments);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  return Json::parse(run.out);
}

}  // namespace

TEST_CASE("every demo plan runs to an answer, with nothing on standard error") {
  for (const auto* name : {"two-forest-camps", "winter-desert", "long-weekend"}) {
    INFO(name);
    const ProgramRun run = run_program(
        {"run", project_file("datasets/plans/" + std::string(name) + ".toml"), "--stays", "2000"});
    CHECK(run.exit_code == 0);
    CHECK(run.err.empty());
    CHECK_THAT(run.out, Contains("(invented)") && Contains("Day by day") &&
                            Contains("Energy of an average day") && Contains("Cautions"));
  }
}

TEST_CASE("the README shows how the report of the first demo plan begins") {
  // The report names the instruction set, and every machine can run this one.
  const ProgramRun run = run_program({"run", kDemo, "--cpu", "baseline"});
  const std::string shown = example_after(text_of(project_file("README.md")),
                                          "<!-- how the demo plan's report begins -->");
  CHECK_THAT(run.out, StartsWith(shown + "\nDay by day"));
}

TEST_CASE("the README's first plan runs as it stands") {
  const std::string plan =
      example_after(text_of(project_file("README.md")), "<!-- a first plan -->");
  const ProgramRun run = run_program({"run", "-", "--stays", "500"}, plan);
  INFO(run.err);
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("by the pond (invented)"));
}

TEST_CASE("the same seed gives the same bytes for any number of threads") {
  const auto result = [](const char* threads) {
    return run_program({"run", kDemo, "--stays", "4000", "--threads", threads, "--json", "-"}).out;
  };
  const std::string one = result("1");
  CHECK(Json::parse(one)["stays"] == 4000);
  CHECK(result("2") == one);
  CHECK(result("3") == one);
  CHECK(result("8") == one);
}

TEST_CASE("another seed draws other weather") {
  const Json one = run_json({kDemo, "--stays", "1000"});
  const Json two = run_json({kDemo, "--stays", "1000", "--seed", "2"});
  CHECK(one["stay"] != two["stay"]);
  CHECK(two["seed"] == 2);
}

TEST_CASE("counts on a pinned plan do not change by accident") {
  // Golden values: they guard against change, not against error; the oracle tests judge the latter.
  const Json result = run_json({kDemo});
  const double stays = result["stays"];
  CHECK(stays == 20000);
  CHECK(std::lround(result["stay"]["flat"]["p"].get<double>() * stays) == 11350);
  CHECK(std::lround(result["generator"]["flat"]["p"].get<double>() * stays) == 159);
}

TEST_CASE("the JSON result has every part that its format promises") {
  const Json result = run_json({kDemo, "--stays", "1000"});
  CHECK(result["format"] == "dullspell.run/1");
  CHECK(result["seed"] == 1);
  CHECK(result["plan"]["camp"].size() == 2);
  CHECK(result["plan"]["battery"]["discharge_efficiency"] == 0.98);  // a default, filled in
  CHECK(result["places"][0]["id"] == "crescent-city-ca");
  REQUIRE(result["days"].size() == 8);
  CHECK(result["days"][0]["date"] == "2027-05-21");
  CHECK(result["days"][0]["morning_low_soc"].is_null());  // arrival at 15:00
  CHECK(result["days"][1]["morning_low_soc"]["p50"].is_number());
  for (const auto& day : result["days"]) {
    for (const auto* kind : {"flat_on_day", "flat_by_day"}) {
      CHECK(day[kind]["low"] <= day[kind]["p"]);
      CHECK(day[kind]["p"] <= day[kind]["high"]);
    }
  }
  CHECK(result["days"][7]["flat_by_day"]["p"] == result["stay"]["flat"]["p"]);
  REQUIRE(result["hours"].size() == 9 + 6 * 24 + 11);
  CHECK(result["hours"][0]["time"] == "2027-05-21T15:00:00");
  CHECK(result["hours"][0]["night"] == 1);
  for (const Json& flat :
       {result["stay"]["flat"], result["days"][4]["flat_by_day"], result["generator"]["flat"]}) {
    CHECK(flat["climate_low"] <= flat["low"]);  // sampling counts in it
    CHECK(flat["climate_high"] >= flat["high"]);
  }
  CHECK(result["past_years"].is_null());
  CHECK(result["instruction_set"].is_string());
  CHECK(result["stay"]["flat_hour_of_day"].size() == 24);
  CHECK(result["generator"]["days"].size() == 8);
  double share = 0.0;
  for (const auto& bin : result["generator"]["hours_histogram"])
    share += bin["share"].get<double>();
  CHECK(share == Approx(1.0));
  for (const auto* key : {"hours", "fuel_l", "starts", "least_hours"}) {
    CHECK(result["generator"][key]["p50"] <= result["generator"][key]["p99"]);
  }
  CHECK(result["notes"].size() > 0);
  CHECK(result["cautions"].size() > 0);
}

TEST_CASE("a plan without a generator has a null generator") {
  const Json result =
      run_json({project_file("datasets/plans/long-weekend.toml"), "--stays", "500"});
  CHECK(result["generator"].is_null());
  CHECK(result["plan"]["generator"].is_null());
}

TEST_CASE("a plan from standard input gives what the file gives") {
  const auto arguments = [](const std::string& plan) {
    return std::vector<std::string>{"run", plan, "--stays", "500"};
  };
  CHECK(run_program(arguments("-"), text_of(kDemo)).out == run_program(arguments(kDemo)).out);
}

TEST_CASE("the option --json writes a file besides the text, and replaces an older one whole") {
  const TemporaryFolder folder;
  const std::string target = folder.write("result.json", "old");
  const ProgramRun run = run_program({"run", kDemo, "--stays", "500", "--json", target});
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("Day by day"));
  CHECK(Json::parse(text_of(target))["stays"] == 500);
  CHECK(folder.entries() == 1);
}

TEST_CASE("the option --fail-on-risk exits with 3 for the plan as written, and only then") {
  const std::string weekend = text_of(project_file("datasets/plans/long-weekend.toml"));
  CHECK(run_program({"run", "-", "--stays", "500", "--fail-on-risk"}, weekend).exit_code == 3);
  CHECK(run_program({"run", "-", "--stays", "500"}, weekend).exit_code == 0);
  // The demo brings a generator, with which its risk is within what is accepted.
  CHECK(run_program({"run", kDemo, "--stays", "500", "--fail-on-risk"}).exit_code == 0);
}

TEST_CASE("the option --precision draws until the widest interval is narrow enough") {
  const Json result = run_json({kDemo, "--precision", "0.01"});
  CHECK(result["stays"].get<int>() >= 8192);
  for (const auto& day : result["days"]) {
    const auto& flat = day["flat_by_day"];
    CHECK((flat["high"].get<double>() - flat["low"].get<double>()) / 2.0 <= 0.01);
  }
}

TEST_CASE("a plan under way with a forecast is echoed, and its days keep their numbers") {
  const std::vector<std::string> state{
      kDemo,
      "--stays",
      "1000",
      "--set",
      "now=2027-05-24T09:00:00",
      "--set",
      "battery.start_charge=0.55",
      "--set",
      "yesterday=overcast",
      "--set",
      "forecast=[{ day = 4, sky = \"mixed\" }, { date = 2027-05-25, k = 0.55, k_spread = 0.1 }]"};
  const Json result = run_json(state);
  const Json& plan = result["plan"];
  CHECK(plan["now"] == "2027-05-24T09:00:00");
  CHECK(plan["battery"]["start_charge"] == 0.55);
  CHECK(plan["yesterday"]["date"] == "2027-05-23");
  CHECK(plan["yesterday"]["sky"] == "overcast");
  REQUIRE(plan["forecast"].size() == 2);
  CHECK(plan["forecast"][0]["day"] == 4);
  CHECK(plan["forecast"][0]["sky"] == "mixed");
  CHECK(plan["forecast"][0]["k"] == 0.47);
  CHECK(plan["forecast"][1]["date"] == "2027-05-25");
  CHECK(plan["forecast"][1]["sky"].is_null());
  CHECK(plan["forecast"][1]["k_spread"] == 0.1);
  CHECK(plan["set"].size() == 4);
  REQUIRE(result["days"].size() == 5);
  CHECK(result["days"][0]["day"] == 4);
  CHECK(result["days"][0]["date"] == "2027-05-24");
  CHECK(result["hours"][0]["time"] == "2027-05-24T09:00:00");
  CHECK(result["hours"][0]["night"] == 3);
  CHECK(result["hours"][9]["night"] == 4);

  std::vector<std::string> arguments = state;
  arguments.insert(arguments.begin(), "run");
  const ProgramRun text = run_program(arguments);
  CHECK_THAT(text.out, Contains("Fri 21 May 2027 15:00 to Fri 28 May 2027 11:00") &&
                           Contains("Under way: from Mon 24 May 09:00 on, with 55 % of charge.") &&
                           Contains("Known: Mon 24 May mixed, Tue 25 May clearness 0.55 ± 0.10; "
                                    "yesterday overcast.") &&
                           Contains("Changed for this run: now=2027-05-24T09:00:00") &&
                           Contains("The forecast is trusted as stated."));
}

TEST_CASE("a stated sky beyond the place's statistics is named with what is used") {
  const auto notes = [](const char* k) {
    return run_json({kDemo, "--stays", "200", "--set", std::string("yesterday=") + k})["notes"]
        .dump();
  };
  CHECK_THAT(notes("0.85"),
             Contains("Thu 20 May: clearness 0.85 lies beyond the place's statistics"));
  CHECK_THAT(notes("0.55"), !Contains("beyond the place's statistics"));
}

TEST_CASE("a plan without them says that nothing is known, and no setting was made") {
  const Json plan = run_json({kDemo, "--stays", "200"})["plan"];
  CHECK(plan["now"].is_null());
  CHECK(plan["yesterday"].is_null());
  CHECK(plan["forecast"].empty());
  CHECK(plan["set"].empty());
}

TEST_CASE("the option --set gives what the plan with the value in it gives") {
  const ProgramRun typed = run_program({"run", kDemo, "--stays", "500", "--json", "-", "--set",
                                        "battery.capacity_wh=1024", "--set", "camp[2].canopy=0.6"});
  std::string text = text_of(kDemo);
  text.replace(text.find("= 150"), 5, "= 80");
  text.replace(text.find("= 0.3\ndrive"), 5, "= 0.6");
  const ProgramRun written = run_program({"run", "-", "--stays", "500", "--json", "-"}, text);
  const Json a = Json::parse(typed.out), b = Json::parse(written.out);
  for (const auto* part : {"verdict", "days", "hours", "stay", "generator", "budget"}) {
    CHECK(a[part] == b[part]);
  }
  CHECK_THAT(run_program({"budget", "--set", "battery.capacity_wh=1024", kDemo}).out,
             Contains("battery 1024 Wh"));
}

TEST_CASE("a run with doubt says what the plan's guesses bring and which to measure first") {
  const ProgramRun text = run_program({"run", kDemo, "--stays", "2000", "--doubt"});
  CHECK(text.exit_code == 0);
  CHECK_THAT(text.out, Contains("What the plan guesses") && Contains("Measure \"canopy\" first"));
  const Json json = run_json({kDemo, "--stays", "2000", "--doubt", "--set", "guesses.canopy=0"});
  const Json& guesses = json["guesses"];
  CHECK(guesses["runs"] == 256);
  CHECK(guesses["flat"]["low"] < json["stay"]["flat"]["p"]);
  CHECK(guesses["flat"]["high"] > json["stay"]["flat"]["p"]);
  CHECK(guesses["parts"].size() > 3);
  double greatest = 1.0;
  for (const Json& part : guesses["parts"]) {
    CHECK(part["name"] != "canopy");
    CHECK(part["share_of_doubt"] <= greatest);
    greatest = part["share_of_doubt"];
  }
  CHECK(run_json({kDemo, "--stays", "2000"})["guesses"] == nullptr);
  const ProgramRun wrong = run_program({"run", kDemo, "--doubt", "--set", "guesses.loads=3"});
  CHECK(wrong.exit_code == 2);
  CHECK_THAT(wrong.err, Contains("guesses") && Contains("0.6"));
}

TEST_CASE("the doubt of one guess alone is that of runs with it off by 1.96 deviations") {
  std::vector<std::string> words{kDemo,     "--stays", "2048",
                                 "--doubt", "--set",   "guesses.canopy=0.1"};
  for (const char* other : {"standby", "loads", "fridge", "furnace", "harvest", "health"}) {
    words.insert(words.end(), {"--set", fmt::format("guesses.{}=0", other)});
  }
  const Json guesses = run_json(words)["guesses"];
  REQUIRE(guesses["parts"].size() == 1);
  CHECK(guesses["parts"][0]["name"] == "canopy");
  // By itself it brings all of the doubt but what a cubic leaves of it.
  CHECK(guesses["parts"][0]["share_of_doubt"] > 0.95);
  CHECK(guesses["rest"] < 0.05);
  // Each run takes an eighth of the stays, the same ones as a study of so many.
  REQUIRE(guesses["stays_each"] == 256);
  const auto flat_with_canopy_off_by = [&](double error) {
    return run_json({kDemo, "--stays", "256", "--set",
                     fmt::format("camp[1].canopy={}", 0.5 + error), "--set",
                     fmt::format("camp[2].canopy={}", 0.3 + error)})["stay"]["flat"]["p"]
        .get<double>();
  };
  const double low = flat_with_canopy_off_by(-0.196), high = flat_with_canopy_off_by(0.196);
  REQUIRE(high - low > 0.3);
  // Of 256 runs the third or so from either end: within a few stays of 256.
  CHECK(guesses["flat"]["low"].get<double>() == Approx(low).margin(0.03));
  CHECK(guesses["flat"]["high"].get<double>() == Approx(high).margin(0.03));
}

}  // namespace dullspell::run_test
