#include <sstream>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "tests/support/page_parts.hpp"
#include "tests/support/text_width.hpp"

namespace dullspell::shade_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using dullspell::Json;

namespace {

const std::string kDemo = project_file("datasets/plans/two-forest-camps.toml");

// One panel flat on the roof, under pines.
const std::string kVan = R"toml(title = "A van under pines (invented)"
arrive = 2027-10-08T16:00:00
leave = "10:00"
[[camp]]
place = "Crescent City, CA"
nights = 4
canopy = 0.4
[battery]
capacity_wh = 1280
[[panels]]
rated_w = 100
[[load]]
name = "fridge and standby"
watts = 22
)toml";

std::vector<std::string> shade(std::vector<std::string> options) {
  options.insert(options.begin(), {"shade", "-"});
  return options;
}

std::string text_for(const std::vector<std::string>& options, const std::string& plan = kVan) {
  const ProgramRun run = run_program(shade(options), plan);
  INFO(run.err);
  CHECK(run.exit_code == 0);
  return one_line(run.out);
}

Json json_for(std::vector<std::string> options, const std::string& plan = kVan) {
  options.insert(options.end(), {"--json", "-"});
  return Json::parse(run_program(shade(options), plan).out);
}

}  // namespace

TEST_CASE("shade tells what the display should show, hour by hour, for four skies") {
  const ProgramRun run = run_program(shade({}), kVan);
  INFO(run.err);
  CHECK(run.exit_code == 0);
  CHECK(widest_line(run.out) <= 92);
  const Json result = json_for({});
  CHECK(result["format"] == "dullspell.shade/1");
  const Json& camp = result["camps"][0];
  CHECK(camp["date"] == "2027-10-10");
  CHECK(camp["utc_offset_h"] == -7.0);
  REQUIRE(camp["skies"].size() == 4);
  const Json& clear = camp["skies"][0];
  for (const Json& sky : camp["skies"]) {
    double here_wh = 0.0, open_wh = 0.0;
    REQUIRE(sky["here_w"].size() == camp["hours_from"].size());
    for (std::size_t i = 0; i < sky["here_w"].size(); ++i) {
      here_wh += sky["here_w"][i].get<double>();
      open_wh += sky["open_w"][i].get<double>();
    }
    CHECK(sky["here_wh"] == Approx(here_wh));
    CHECK(sky["open_wh"] == Approx(open_wh));
    CHECK(sky["shade_takes_wh"] == Approx(open_wh - here_wh));
  }
  // The table's rows are the result's hours.
  for (std::size_t i = 0; i < camp["hours_from"].size(); ++i) {
    const std::string hour = camp["hours_from"][i];
    const auto row = run.out.find("\n  " + hour + "–");
    REQUIRE(row != std::string::npos);
    std::istringstream words(run.out.substr(row));
    std::string hours, here, of, open;
    words >> hours >> here >> of >> open;
    CHECK(std::stod(here) == Approx(clear["here_w"][i].get<double>()).margin(0.5));
    CHECK(std::stod(open) == Approx(clear["open_w"][i].get<double>()).margin(0.5));
  }
  CHECK_THAT(one_line(run.out), Contains("Watts by canopy, Sun 10 Oct") && Contains("0.4 (plan)") &&
                                    Contains("photograph the sky straight up"));
}

TEST_CASE("watts that were seen are answered with the canopy to write, which an audit bears out") {
  const std::vector<std::string> seen{"--seen", "21", "--at", "13:00", "--sky", "clear"};
  const Json answer = json_for(seen)["seen"];
  const double canopy = answer["canopy"];
  CHECK(canopy > 0.4);
  CHECK(answer["canopy_least"] < canopy);
  CHECK(answer["canopy_most"] > canopy);
  CHECK_THAT(text_for(seen),
             Contains(fmt::format("21 W at 13:00 on Sun 10 Oct, clear sky, is what a canopy of "
                                  "{:.2f} leaves",
                                  canopy)) &&
                 Contains(fmt::format("`canopy = {:.2f}`", canopy)) &&
                 Contains("`at = 2027-10-10T13:00:00`"));
  const std::string reading =
      "[[reading]]\npanels_w = 21\nat = 2027-10-10T13:00:00\nsky = \"clear\"\n";
  const auto expected = [&](const std::string& setting) {
    return Json::parse(
               run_program({"audit", "-", "--stays", "100", "--json", "-", "--set", setting},
                           kVan + reading)
                   .out)["readings"][0]["by_list"]
        .get<double>();
  };
  CHECK(expected(fmt::format("camp[1].canopy={}", canopy)) == Approx(21.0).margin(0.01));
  CHECK(expected("camp[1].canopy=0.4") == Approx(answer["here_w"].get<double>()));
}

TEST_CASE(
    "an answer says where it agrees with the plan, and where no canopy explains what was seen") {
  const auto told = [&](const char* watts) {
    return text_for({"--seen", watts, "--at", "13:00", "--sky", "clear"});
  };
  CHECK_THAT(told("25"), Contains("which agrees with the plan") &&
                             Contains("Leave the plan's canopy of 0.4 as it is"));
  CHECK_THAT(told("57"), Contains("it is next to no canopy"));
  CHECK_THAT(told("95"), Contains("No canopy explains it") && Contains("Write no canopy"));
  CHECK_THAT(told("0"), Contains("less than even a canopy of 0.95") && Contains("nearly full"));
  CHECK_THAT(text_for({"--seen", "3", "--at", "16:30", "--sky", "rain"}),
             Contains("That is hardly an answer"));
  CHECK_THAT(text_for({"--seen", "21", "--at", "13:00", "--sky", "clear", "--date", "2027-06-20"}),
             Contains("on Sun 20 Jun, clear sky") && !Contains("Read on another date"));
}

TEST_CASE("a camp without shade shows the open and what trees would take") {
  const std::string text = text_for({"--set", "camp[1].canopy=0"});
  CHECK_THAT(text, Contains("in the open: the plan states no shade there") &&
                       Contains("0.0 (plan)") && !Contains("shade takes"));
}

TEST_CASE("each camp has its tables, and one of them alone if asked") {
  CHECK(Json::parse(run_program({"shade", kDemo, "--json", "-"}).out)["camps"].size() == 2);
  const ProgramRun second = run_program({"shade", kDemo, "--camp", "2"});
  CHECK_THAT(second.out, Contains("Watts by the hour, camp 2, South Lake Tahoe, CA") &&
                             !Contains("Watts by the hour, camp 1"));
}

TEST_CASE("a date without sun says so, as text and as a page") {
  const std::vector<std::string> night{"--date", "2027-12-20", "--set",
                                       "camp[1].place={ latitude = 78.2, longitude = 15.6 }"};
  CHECK_THAT(text_for(night), Contains("The sun does not rise on Mon 20 Dec."));
  std::vector<std::string> page = night;
  page.insert(page.end(), {"--html", "-"});
  CHECK_THAT(run_program(shade(page), kVan).out,
             StartsWith("<!DOCTYPE html>") && !Contains("<canvas"));
}

TEST_CASE("shade as CSV has a line for each hour and sky") {
  const ProgramRun run = run_program(shade({"--csv", "-"}), kVan);
  std::istringstream lines(run.out);
  std::string line;
  std::getline(lines, line);
  CHECK(line == "camp,date,hour_from,sky,k,here_w,open_w");
  double clear_wh = 0.0;
  std::size_t rows = 0;
  while (std::getline(lines, line)) {
    ++rows;
    if (line.find(",clear,") != std::string::npos) {
      clear_wh += std::stod(line.substr(line.rfind(',') + 1));
    }
  }
  const Json camp = json_for({})["camps"][0];
  CHECK(rows == 4 * camp["hours_from"].size());
  CHECK(clear_wh == Approx(camp["skies"][0]["open_wh"].get<double>()));
}

TEST_CASE("a page of shade holds the data of --json, and its titles stay text") {
  const std::string page = page_of(shade({}), kVan);
  check_same(data_of(page), json_for({}));
  CHECK(table_of(page, "energy-1").size() == 4);
  CHECK_THAT(markup_of(page), !Contains("simulated stays"));
  std::string hostile = kVan;
  hostile.replace(hostile.find("A van"), std::string("A van under pines (invented)").size(),
                  kHostile);
  check_no_more_markup(page_of(shade({}), hostile), page);
}

TEST_CASE("what shade cannot answer is refused in one message, with nothing written") {
  const TemporaryFolder folder;
  const auto refused = [&](std::vector<std::string> options, const std::string& says,
                           const std::string& plan = kVan) {
    options.insert(options.end(), {"--json", folder.path("shade.json")});
    const ProgramRun run = run_program(shade(options), plan);
    INFO(run.err);
    CHECK(run.exit_code == 2);
    CHECK(run.out.empty());
    CHECK_THAT(run.err, Contains(says));
  };
  std::string no_panels = kVan;
  no_panels.erase(no_panels.find("[[panels]]"),
                  no_panels.find("[[load]]") - no_panels.find("[[panels]]"));
  refused({}, "panels is missing, and without panels there is nothing to shade", no_panels);
  refused({"--seen", "41"}, "--at is missing; allowed: --seen, --at and --sky together");
  refused({"--at", "13:00"}, "--seen is missing");
  refused({"--seen", "41", "--at", "13:00", "--sky", "claer"}, "Did you mean `clear`?");
  refused({"--seen", "41", "--at", "13pm", "--sky", "clear"}, "--at is `13pm`");
  refused({"--seen", "41", "--at", "24:00", "--sky", "clear"}, "--at is `24:00`");
  refused({"--seen", "-1", "--at", "13:00", "--sky", "clear"}, "--seen is `-1`");
  refused({"--seen", "nan", "--at", "13:00", "--sky", "clear"}, "--seen is `nan`");
  refused({"--seen", "41", "--at", "23:00", "--sky", "clear"},
          "--at is 23:00, when the sun is not up on Sun 10 Oct there");
  refused({"--camp", "2"}, "--camp is `2`; allowed: a whole number from 1 to 1");
  refused({"--date", "2027-13-01"}, "--date is `2027-13-01`");
  refused({"--units", "feet"}, "--units is `feet`");
  refused({"--seen", "41", "--at", "13:00", "--sky", "clear"},
          "--camp is missing, and the plan has 2 camps", text_of(kDemo));
  CHECK(folder.entries() == 0);
}

}  // namespace dullspell::shade_test
