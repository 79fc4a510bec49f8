#include <cmath>
#include <sstream>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/example_after.hpp"
#include "tests/support/run_program.hpp"

namespace dullspell::size_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Json = nlohmann::json;

namespace {

const std::string kDemo = project_file("datasets/plans/two-forest-camps.toml");

const std::string kPlan = R"(arrive = 2027-11-10T15:00:00
accept_risk = 0.2
currency = "EUR"
[[camp]]
place = "crescent-city-ca"
nights = 5
[battery]
capacity_ah = 100
nominal_v = 25.6
[[panels]]
rated_w = 300
[[load]]
name = "everything"
watts = 30
[[option]]
name = "small, \"cheap\""
capacity_ah = 20
weight_kg = 6
price = 300
[[option]]
name = "twice"
capacity_ah = 200
weight_kg = 40.5
price = 2400
[[option]]
name = "more of both"
battery_wh = 6000
panels_w = 500
price = 2300
[[option]]
name = "light"
battery_wh = 5300
weight_kg = 32
)";

std::string with(const std::string& from, const std::string& to) {
  std::string plan = kPlan;
  const auto at = plan.find(from);
  REQUIRE(at != std::string::npos);
  return plan.replace(at, from.size(), to);
}

Json size_json(std::vector<std::string> arguments, const std::string& input = kPlan) {
  arguments.insert(arguments.begin(), {"size", "-", "--stays", "1000"});
  arguments.insert(arguments.end(), {"--json", "-"});
  const ProgramRun run = run_program(arguments, input);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  return Json::parse(run.out);
}

// Flat share of a run of the plan with settings, as JSON of `run` says it.
double run_flat(const std::vector<std::string>& settings, const char* part = "stay") {
  std::vector<std::string> arguments{"run", "-", "--stays", "1000", "--json", "-"};
  for (const auto& setting : settings) arguments.insert(arguments.end(), {"--set", setting});
  const ProgramRun run = run_program(arguments, kPlan);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  return Json::parse(run.out)[part]["flat"]["p"];
}

std::string battery_set(double wh) {
  std::ostringstream text;
  text.precision(17);
  text << "battery.capacity_ah=" << wh / 25.6;
  return text.str();
}

bool has_reason(const Json& json, const std::string& reason) {
  return json["no_size"]["reasons"].dump().find('"' + reason + '"') != std::string::npos;
}

void check_refused(const std::vector<std::string>& arguments, const std::string& plan,
                   const std::string& says) {
  INFO(plan);
  const ProgramRun run = run_program(arguments, plan);
  CHECK(run.exit_code == 2);
  CHECK(run.out.empty());
  CHECK_THAT(run.err, Contains(says));
}

}  // namespace

TEST_CASE("the size that is named lasts in a run of its own, and the next smaller one does not") {
  const Json json = size_json({});
  CHECK(json["format"] == "dullspell.size/1");
  CHECK(json["vary"] == "battery");
  CHECK(json["confidence"] == Approx(0.8));
  const double least = json["least"]["battery_wh"];
  double smaller = 0.0;
  for (const Json& tried : json["curve"]) {
    const double size = tried["battery_wh"];
    if (size < least) smaller = std::max(smaller, size);
  }
  CHECK(least - smaller <= std::max(1.0, 0.001 * least));
  // The charge limits follow the capacity in both.
  CHECK(run_flat({battery_set(least)}) == json["least"]["flat"]["p"].get<double>());
  CHECK(run_flat({battery_set(least)}) <= 0.2);
  CHECK(run_flat({battery_set(smaller)}) > 0.2);
  CHECK(json["least"]["capacity_ah"] == Approx(least / 25.6));
  CHECK(json["least"]["sampling"]["low"] <= least);
  CHECK(json["least"]["climate"]["high"] >= json["least"]["sampling"]["high"].get<double>());
  CHECK(json["stated"]["flat"]["p"] == run_flat({}));
}

TEST_CASE("panels are sized too, and more confidence asks for more") {
  const Json json = size_json({"--vary", "panels"});
  const double least = json["least"]["panels_w"];
  std::ostringstream setting;
  setting.precision(17);
  setting << "panels[1].rated_w=" << least;
  CHECK(run_flat({setting.str()}) == json["least"]["flat"]["p"].get<double>());
  const Json sure = size_json({"--vary", "panels", "--confidence", "0.95"});
  CHECK(sure["least"]["panels_w"] > least);
}

TEST_CASE("the frontier trades panels for battery") {
  const Json json = size_json({"--vary", "both"});
  CHECK(json["vary"] == "both");
  REQUIRE(json["frontier"].size() >= 5);
  double before = INFINITY;
  for (const Json& point : json["frontier"]) {
    if (point["least"].is_null()) continue;
    const double wh = point["least"]["battery_wh"];
    CHECK(wh < before);
    before = wh;
  }
  CHECK(before < 1e6);
}

TEST_CASE("options are judged, and the cheapest and the lightest that last are named") {
  const Json json = size_json({});
  const Json& options = json["options"];
  REQUIRE(options.size() == 4);
  CHECK(options[0]["meets_target"] == false);
  for (const int i : {1, 2, 3}) CHECK(options[i]["meets_target"] == true);
  CHECK(options[1]["flat"]["p"] == run_flat({"battery.capacity_ah=200"}));
  CHECK(options[2]["flat"]["p"] == run_flat({battery_set(6000), "panels[1].rated_w=500"}));
  CHECK(json["cheapest"] == "more of both");
  CHECK(json["lightest"] == "light");
  const ProgramRun run = run_program({"size", "-", "--stays", "1000"}, kPlan);
  CHECK_THAT(run.out, Contains("lasts in 80 of 100 stays is more of both (2300 EUR)"));
  CHECK_THAT(run.out, Contains("is light (32 kg)"));
}

TEST_CASE("other commands pass over the options") {
  CHECK(run_program({"run", "-", "--stays", "200"}, kPlan).exit_code == 0);
  CHECK(run_program({"budget", "-"}, kPlan).exit_code == 0);
}

TEST_CASE("every size that was tried is a row of the CSV") {
  const ProgramRun run = run_program({"size", "-", "--stays", "1000", "--csv", "-"}, kPlan);
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out, StartsWith("row,name,battery_wh,panels_w,stays,flat_stays,flat,flat_low,"
                                 "flat_high,meets_target\nleast,,"));
  CHECK_THAT(run.out, Contains("\nstated,,2560,300,1000,"));
  CHECK_THAT(run.out, Contains("\noption,\"small, \"\"cheap\"\"\",512,300,1000,"));
  std::size_t tried = 0;
  for (std::size_t at = 0; (at = run.out.find("\ntried,", at)) != std::string::npos; ++at) ++tried;
  CHECK(tried == size_json({})["curve"].size());
}

TEST_CASE("a plan that asks for too much is told why no battery does") {
  const std::string plan = with("watts = 30", "watts = 3000");
  const Json json = size_json({}, plan);
  CHECK(json["least"].is_null());
  CHECK(json["no_size"]["reasons"][0]["reason"] == "balance");
  CHECK(json["no_size"]["largest"]["battery_wh"] == 200'000.0);
  const ProgramRun run = run_program({"size", "-", "--stays", "500"}, plan);
  CHECK_THAT(run.out, Contains("No size of battery lasts in 80 of 100 stays") &&
                          Contains("more than comes in") && Contains("What would help"));
  const Json empty = size_json({"--set", "battery.start_charge=0"});
  CHECK(has_reason(empty, "empty_at_first"));
  const Json night = size_json({"--vary", "panels", "--set", battery_set(200)});
  CHECK(has_reason(night, "night"));
}

TEST_CASE("a kit that is larger than it need be is told by how much") {
  const ProgramRun run =
      run_program({"size", "-", "--stays", "500", "--set", "battery.capacity_ah=900"}, kPlan);
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("The plan's 23.0 kWh is enough") && Contains("less than the plan"));
}

TEST_CASE("with the generator along a smaller battery does") {
  const auto least = [](std::vector<std::string> more) {
    more.insert(more.begin(), {"size", kDemo, "--stays", "1000", "--json", "-"});
    return Json::parse(run_program(more).out)["least"]["battery_wh"].get<double>();
  };
  CHECK(least({"--with-generator"}) < 0.5 * least({}));
}

TEST_CASE("the same seed sizes alike for any number of threads") {
  const auto text = [](const char* threads, const char* cpu) {
    return run_program({"size", "-", "--stays", "1000", "--vary", "both", "--threads", threads,
                        "--cpu", cpu, "--json", "-"},
                       kPlan)
        .out;
  };
  CHECK(text("1", "baseline") == text("3", "baseline"));
}

TEST_CASE("no line of the report is too wide") {
  std::istringstream lines(run_program({"size", "-", "--vary", "both"}, kPlan).out);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    std::size_t width = 0;
    for (const char c : line) width += (c & 0xC0) != 0x80;
    CHECK(width <= 92);
  }
}

TEST_CASE("wrong questions and options are refused by name") {
  check_refused({"size", "-", "--confidence", "95"}, kPlan, "--confidence is `95`");
  check_refused({"size", "-", "--vary", "inverter"}, kPlan,
                "--vary is `inverter`; allowed: battery, panels or both");
  check_refused({"size", "-", "--precision", "0.01"}, kPlan, "--precision is given");
  check_refused({"size", "-", "--with-generator"}, kPlan, "the plan has no generator");
  check_refused({"size", "-", "--json", "-", "--csv", "-"}, kPlan, "one of the two");
  std::string bare = kPlan.substr(0, kPlan.find("[[option]]"));
  bare.erase(bare.find("[[panels]]"), std::string("[[panels]]\nrated_w = 300\n").size());
  check_refused({"size", "-", "--vary", "panels"}, bare, "the plan has no panels");
  check_refused({"size", "-"}, bare + "[[option]]\nname = \"sun\"\npanels_w = 300\n",
                "option[1].panels_w is given, but the plan has no panels");
  check_refused({"size", "-"}, with("capacity_ah = 20\n", "capacity_ah = 20\nbattery_wh = 300\n"),
                "option[1].capacity_ah is given besides battery_wh");
  check_refused({"size", "-"}, with("capacity_ah = 20\n", ""), "option[1] changes nothing");
  check_refused({"size", "-"}, with("capacity_ah = 20\n", "capacity_ah = 9000\n"),
                "option[1].capacity_ah makes 230400 Wh");
  check_refused({"size", "-"}, with("\"twice\"", "\"light\""), "is \"light\" a second time");
  check_refused({"size", "-"}, with("price = 2300", "price = -2"), "option[3].price is -2");
  check_refused({"size", "-"}, with("price = 2300", "prise = 2"), "Did you mean `price`?");
  check_refused({"size", "-"}, with("capacity_ah = 100\nnominal_v = 25.6", "capacity_wh = 2560"),
                "option[1].capacity_ah needs the battery's nominal_v");
  const TemporaryFolder folder;
  check_refused({"size", "-", "--csv", folder.path("a.csv"), "--vary", "x"}, kPlan, "--vary");
  CHECK(folder.entries() == 0);
}

TEST_CASE("the README shows how the demo plan is sized") {
  const std::string out = run_program({"size", kDemo, "--cpu", "baseline"}).out;
  const std::string shown =
      example_after(text_of(project_file("README.md")), "<!-- how a battery is sized -->");
  const auto sizes = shown.find("\n\nBatteries");
  REQUIRE(sizes != std::string::npos);
  CHECK_THAT(out, Contains("\n\n" + shown.substr(0, sizes) + "\n\nWhat to do\n"));
  CHECK_THAT(out, Contains(shown.substr(sizes) + "\nWhat the figures rest on"));
}

}  // namespace dullspell::size_test
