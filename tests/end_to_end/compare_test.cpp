#include <algorithm>
#include <cmath>
#include <sstream>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/run_program.hpp"

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

namespace {

const std::string kDemo = project_file("datasets/plans/two-forest-camps.toml");

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

// A folder with the demo plan, one with more battery, and one somewhere else at another time.
struct Plans {
  TemporaryFolder folder;
  std::string large = folder.write(
      "large.toml", replaced(text_of(kDemo), "capacity_ah = 150", "capacity_ah = 220"));
  std::string hardly = folder.write(
      "hardly.toml", replaced(text_of(kDemo), "capacity_ah = 150", "capacity_ah = 150.2"));
  std::string elsewhere =
      folder.write("elsewhere.toml", replaced(replaced(text_of(kDemo), "2027-05-21", "2027-07-21"),
                                              "crescent-city-ca", "moab-ut"));
};

ProgramRun compare(std::vector<std::string> arguments, const std::string& input = "") {
  arguments.insert(arguments.begin(), "compare");
  return run_program(arguments, input);
}

Json compare_json(std::vector<std::string> arguments) {
  arguments.insert(arguments.end(), {"--json", "-"});
  const ProgramRun run = compare(arguments);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  return Json::parse(run.out);
}

std::size_t commas(const std::string& line) {
  return static_cast<std::size_t>(std::count(line.begin(), line.end(), ','));
}

}  // namespace

TEST_CASE("a larger battery is told from a smaller one in a sentence, a table and numbers") {
  const Plans plans;
  const ProgramRun text = compare({kDemo, plans.large, "--stays", "2000"});
  CHECK(text.exit_code == 0);
  CHECK(text.err.empty());
  CHECK_THAT(text.out, Contains("With generators left at home: B is safer.") &&
                           Contains("Running flat, generators left at home") &&
                           Contains("Generator along, run as planned") &&
                           Contains("days of autonomy") && Contains("Cautions") &&
                           Contains("2,000 stays, seed 1"));
  std::istringstream lines(text.out);
  for (std::string line; std::getline(lines, line);) {
    CAPTURE(line);
    CHECK(std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; }) <= 92);
  }

  const Json json = compare_json({kDemo, plans.large, "--stays", "2000"});
  CHECK(json["format"] == "dullspell.compare/1");
  CHECK(json["plans"].size() == 2);
  CHECK(json["plans"][0]["against_first"].is_null());
  CHECK(json["plans"][1]["plan"]["battery"]["capacity_wh"] == Approx(220 * 12.8));
  const Json home = json["plans"][1]["against_first"]["flat_home"];
  const double first = json["plans"][0]["flat_home"]["p"],
               second = json["plans"][1]["flat_home"]["p"];
  CHECK(home["difference"].get<double>() == Approx(second - first));
  CHECK(home["high"].get<double>() < 0.0);
  CHECK(home["climate_low"].get<double>() < home["low"].get<double>());
  // Far narrower than of independent runs: those would have the sum of both variances.
  const double independent = 1.96 * std::sqrt((first * (1 - first) + second * (1 - second)) / 2000);
  CHECK(home["high"].get<double>() - home["low"].get<double>() < 2.0 * independent);
  CHECK(json["plans"][1]["against_first"]["generator_h"]["high"].get<double>() < 0.0);
}

TEST_CASE("plans that a few stays cannot tell apart are said to be so, and how many might") {
  const Plans plans;
  const ProgramRun run = compare({kDemo, plans.hardly, "--stays", "400"});
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("400 stays cannot tell A and B apart") ||
                          Contains("the same in every one of 400 stays"));
  CHECK_THAT(compare({kDemo, kDemo, "--stays", "400"}).out,
             Contains("A and B come out the same in every one of 400 stays"));
}

TEST_CASE("other dates and places share draws but not climates") {
  const Plans plans;
  const std::string out = compare({kDemo, plans.elsewhere, "--stays", "400"}).out;
  CHECK_THAT(out, Contains("B against A: other dates and places."));
  CHECK_THAT(compare({kDemo, plans.large, "--stays", "400"}).out, !Contains("other dates"));
}

TEST_CASE("plans are compared alike for any number of threads, and --set changes them all") {
  const Plans plans;
  const auto result = [&](const char* threads) {
    return compare({kDemo, plans.large, "--stays", "3000", "--threads", threads, "--json", "-"})
        .out;
  };
  CHECK(result("1") == result("3"));
  const Json half =
      compare_json({kDemo, plans.large, "--stays", "400", "--set", "battery.start_charge=0.5"});
  for (const auto& plan : half["plans"]) CHECK(plan["plan"]["battery"]["start_charge"] == 0.5);
}

TEST_CASE("a comparison as CSV has one line a plan, all of the same length") {
  const Plans plans;
  const ProgramRun run =
      compare({kDemo, plans.large, project_file("datasets/plans/long-weekend.toml"), "--stays",
               "400", "--csv", "-"});
  CHECK(run.exit_code == 0);
  std::istringstream lines(run.out);
  std::string header, line;
  std::getline(lines, header);
  CHECK_THAT(header, Catch::Matchers::StartsWith("plan,file,title,flat_home,"));
  int rows = 0;
  while (std::getline(lines, line)) {
    ++rows;
    CAPTURE(line);
    CHECK(commas(line) == commas(header));
  }
  CHECK(rows == 3);
}

TEST_CASE("a comparison that cannot be made is refused, with nothing written") {
  const Plans plans;
  const std::size_t before = plans.folder.entries();
  const auto refused = [&](std::vector<std::string> arguments, const std::string& says) {
    const ProgramRun run = compare(arguments);
    INFO(run.err);
    CHECK(run.exit_code == 2);
    CHECK(run.out.empty());
    CHECK_THAT(run.err, Contains(says));
  };
  refused({}, "PLAN is required");
  refused({kDemo}, "PLAN is given 1 time; allowed: 2 to 8 plans");
  refused(std::vector<std::string>(9, kDemo), "PLAN is given 9 times");
  refused({"-", "-"}, "PLAN is - more than once");
  refused({kDemo, "none.toml"}, "there is no such plan file");
  refused({kDemo, kDemo, "--precision", "0.01"}, "--precision is given");
  refused({kDemo, kDemo, "--stays", "5"}, "--stays is `5`");
  refused({kDemo, kDemo, "--set", "battery.capacity_wh=-1"}, "battery.capacity_wh is -1");
  refused({kDemo, kDemo, "--json", "-", "--csv", "-"}, "--csv is `-`, as --json is");
  refused({kDemo, plans.large, "--json", plans.folder.path("no/where.json")}, "does not exist");
  refused({kDemo, "none.toml", "--json", plans.folder.path("result.json")}, "no such plan file");
  CHECK(plans.folder.entries() == before);
}
