#include <catch2/catch.hpp>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <iterator>
#include <map>
#include <set>
#include <sstream>
#include <string>

#include "tests/support/run_program.hpp"

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;
using Catch::Matchers::StartsWith;

namespace {

std::string output_of(std::vector<std::string> arguments) {
  const ProgramRun run = run_program(std::move(arguments));
  INFO(run.err);
  CHECK(run.exit_code == 0);
  return run.out;
}

auto lines(const std::string& text) {
  return std::count(text.begin(), text.end(), '\n');
}

// Names of tables without their brackets.
std::string bare(std::string title) {
  std::erase_if(title, [](char c) { return c == '[' || c == ']'; });
  return title;
}

// Keys by the titles of their tables.
std::map<std::string, std::set<std::string>> told_keys() {
  std::map<std::string, std::set<std::string>> keys;
  std::istringstream lines(output_of({"keys"}));
  std::string table;
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("[") || line.starts_with("before all")) {
      table = line.substr(0, line.find(':'));
    } else if (line.starts_with("  ") && line.size() > 2 && line[2] != ' ') {
      keys[table].insert(line.substr(2, line.find(' ', 2) - 2));
    }
  }
  return keys;
}

// What a message about an unknown key says is known there.
std::set<std::string> known_keys(const std::string& message) {
  const std::string marker = "Known here: ";
  const auto from = message.find(marker);
  REQUIRE(from != std::string::npos);
  std::string list = message.substr(from + marker.size());
  list = list.substr(0, list.find('.'));
  std::replace(list.begin(), list.end(), ',', ' ');
  std::istringstream words(list);
  return {std::istream_iterator<std::string>(words), {}};
}

const std::string kPlanOfAllTables = R"(
arrive = 2027-05-21T15:00:00
forecast = [{ day = 1, sky = "mixed" }]
battery = { capacity_wh = 1000 }
inverter = { rated_w = 1000 }
converter = {}
controller = [{ name = "one", limit_w = 300 }]
panels = [{ rated_w = 200 }]
load = [{ name = "lights", watts = 10 }]
fridge = { running_w = 50 }
vehicle = { charge_w = 200 }
hookup = { charger_w = 200 }
guesses = {}
option = [{ name = "larger", battery_wh = 2000 }]
reading = [{ draw_w = 20, at = 2027-05-20T22:00:00, on = [] }]
[[camp]]
place = { latitude = 41.8, longitude = -124.1, utc_offset_h = -8, k_mean = [
  0.4, 0.4, 0.4, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.4, 0.4], temp_mean_c = [
  9, 9, 9, 10, 12, 13, 14, 14, 14, 13, 11, 9] }
nights = 2
skyline = [{ from_deg = 0, to_deg = 90, height_deg = 20 }]
[furnace]
blower_w = 90
output_w = 4000
heat_loss_w_per_k = 90
hold_c = [{ from = "22:00", to = "07:00", c = 14 }]
[generator]
rated_w = 1000
charger_w = 500
allowed = [["08:00", "20:00"]]
rule = "levels"
level = [{ at = 2027-05-22T09:00:00, start_below = 0.2, stop_at = 0.5 }]
)";

}  // namespace

TEST_CASE("help comes in layers") {
  const std::string all = output_of({});
  for (const auto* command : {"run", "budget", "places", "weather", "fit", "new"}) {
    CHECK_THAT(all, Contains(std::string("  ") + command + " "));
    CHECK_THAT(output_of({command, "--help"}),
               Contains("Usage: dullspell " + std::string(command)));
  }
  CHECK(output_of({"--help"}) == all);
  CHECK_THAT(output_of({"run", "--help"}), Contains("--stays") && Contains("default 20000") &&
                                               Contains("--fail-on-risk") && Contains("Examples"));
  CHECK_THAT(output_of({"--version"}), StartsWith("dullspell 0."));
}

TEST_CASE("the starter plan runs as it is written") {
  const TemporaryFolder folder;
  const std::string plan = folder.path("mine.toml");
  CHECK(output_of({"new", plan}).empty());
  CHECK(text_of(plan) == output_of({"new"}));
  CHECK_THAT(output_of({"run", plan, "--stays", "500"}), Contains("My stay"));
  const ProgramRun again = run_program({"new", plan});
  CHECK(again.exit_code == 2);
  CHECK_THAT(again.err, Contains("exists already"));
}

TEST_CASE("the reference tells of the keys that the plan's readers know, no more and no fewer",
          "[long]") {
  CHECK(run_program({"run", "-", "--stays", "100"}, kPlanOfAllTables).exit_code == 0);
  const auto keys = told_keys();
  REQUIRE(keys.size() == 21);
  for (auto [title, told] : keys) {
    const bool before_all = title.starts_with("before");
    std::string path = before_all ? "" : bare(title) + (title.starts_with("[[") ? "[1]." : ".");
    if (path.starts_with("camp.")) path.insert(4, "[1]");
    if (before_all) {
      for (const auto& [table, ignored] : keys) {
        const std::string name = bare(table);
        if (table != title && name.find('.') == std::string::npos) told.insert(name);
      }
    }
    CAPTURE(path);
    const ProgramRun run =
        run_program({"run", "-", "--set", path + "qqqqqqqq=1"}, kPlanOfAllTables);
    CHECK(run.exit_code == 2);
    const std::set<std::string> known = known_keys(run.err);
    if (title == "[camp.place]") {  // `fit` writes more of them
      CHECK(std::includes(known.begin(), known.end(), told.begin(), told.end()));
    } else {
      CHECK(known == told);
    }
  }
}

TEST_CASE("one table's keys are told by its name, with those of the tables inside it") {
  const std::string camp = output_of({"keys", "camp"});
  CHECK(output_of({"keys", "[[camp]]"}) == camp);
  CHECK_THAT(camp, StartsWith("[[camp]]") && Contains("\n  canopy ") &&
                       Contains("\n[[camp.skyline]]") && !Contains("[battery]"));
  const ProgramRun run = run_program({"keys", "batery"});
  CHECK(run.exit_code == 2);
  CHECK_THAT(run.err, Contains("Did you mean `battery`?"));
}

TEST_CASE("a budget lists every load and adds up") {
  const std::string text =
      output_of({"budget", project_file("datasets/plans/two-forest-camps.toml")});
  CHECK_THAT(text, Contains("laptop") && Contains("inverter standby") && Contains("fridge") &&
                       Contains("total") && Contains("days of autonomy"));
}

TEST_CASE("places are found by name and by distance") {
  CHECK_THAT(output_of({"places", "tahoe"}), Contains("\n  south-lake-tahoe-ca  "));
  CHECK(lines(output_of({"places"})) >= 800);
  const std::string near = output_of({"places", "--near", "34.9,-116.8", "--count", "3"});
  const std::string first = near.substr(near.find('\n') + 1);
  CHECK_THAT(first.substr(0, first.find('\n')),
             StartsWith("  daggett-ca ") && Contains(" km  typical "));
  CHECK_THAT(near, Contains("\nTowns\n") && Contains("\n  Barstow, CA ") &&
                       EndsWith("\n3 places: 3 typical.\nTowns: GeoNames, CC BY 4.0.\n"));
}

TEST_CASE("places shows the kind of each record and the terms of the estimated ones") {
  const std::string austria = output_of({"places", "austria"});
  CHECK_THAT(austria,
             Contains("\n  graz-at    measured   47.08,15.45  +1   Graz, Austria\n") &&
                 Contains("\n  vienna-at  estimated  48.21,16.37  +1   Vienna, Austria\n") &&
                 Contains("\n2 places: 1 measured, 1 estimated.\n"));
  CHECK_THAT(austria,
             EndsWith("1 of them: estimated, from monthly sunshine hours; coordinates from "
                      "GeoNames; license CC\nBY-SA 4.0, GeoNames CC BY 4.0.\n"));
  CHECK(output_of({"places", "AT"}) == austria);
  CHECK_THAT(output_of({"places", "UT"}), Contains("Cedar City, UT") && !Contains("Utica"));
  const std::string measured = output_of({"places", "austria", "--kind", "measured"});
  CHECK_THAT(measured, Contains("\n  graz-at ") && EndsWith("\n1 place: 1 measured.\n"));
  CHECK_THAT(output_of({"places", "--near", "34.5,69.2", "--count", "1"}),
             Contains("kabul-af") && Contains("\n  Kabul, Afghanistan "));
}

TEST_CASE("a plan at an estimated city says so, and has the temperatures known around it") {
  const ProgramRun run =
      run_program({"run", "-", "--stays", "200"},
                  "arrive = 2027-06-10T15:00:00\n[[camp]]\nnights = 2\nplace = \"kabul-af\"\n"
                  "[battery]\ncapacity_wh = 1000\n[fridge]\nrunning_w = 45\n");
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("Kabul, Afghanistan: estimated, not measured") &&
                          Contains("CC BY-SA 4.0") && Contains("UTC+4.5"));
}

TEST_CASE("weather prints a place's months, or days as CSV") {
  CHECK_THAT(output_of({"weather", "daggett-ca"}), Contains("clearness") && Contains("Dec"));
  const std::string days =
      output_of({"weather", "daggett-ca", "--days", "3", "--from", "2027-02-27", "--stays", "2"});
  CHECK(lines(days) == 7);
  CHECK_THAT(days, StartsWith("stay,date,k,ghi_kwh_m2,temp_mean_c,temp_max_c,temp_min_c\n"
                              "0,2027-02-27,") &&
                       Contains("\n1,2027-03-01,"));
}

TEST_CASE("the built-in places are what fit makes of the records") {
  const TemporaryFolder folder;
  const std::string table = folder.path("us.csv");
  output_of({"fit", project_file("datasets/records/typical_daily_us.csv"),
             project_file("datasets/records/uscrn_2020_daily.csv"), "--sites",
             project_file("datasets/places/us_sites.tsv"), "--out", table});
  const bool same = text_of(table) == text_of(project_file("datasets/places/us.csv"));
  CHECK(same);
}

TEST_CASE("fit makes a place file that a plan can use") {
  const TemporaryFolder folder;
  // A year of days whose clearness swings between clear and dull, near Davis, California.
  std::string record = "date,ghi_kwh_m2,tmax_c,tmin_c\n";
  for (int d = 0; d < 365; ++d) {
    const std::chrono::sys_days date =
        std::chrono::sys_days{std::chrono::year{2021} / 1 / 1} + std::chrono::days{d};
    const std::chrono::year_month_day ymd{date};
    char row[80];
    std::snprintf(row, sizeof row, "%d-%02u-%02u,%.2f,%d,%d\n", int{ymd.year()},
                  unsigned{ymd.month()}, unsigned{ymd.day()}, (d / 2) % 3 ? 1.6 + 0.001 * d : 0.8,
                  20 + d % 5, 8 - d % 3);
    record += row;
  }
  const std::string place = folder.path("mine.toml");
  const std::string months =
      output_of({"fit", folder.write("mine.csv", record), "--latitude", "38.5", "--longitude",
                 "-121.8", "--utc-offset", "-8", "--name", "Mine", "--out", place});
  CHECK_THAT(months, Contains("Mine"));
  const std::string plan = folder.write("plan.toml", R"(arrive = 2027-03-10T15:00:00
[[camp]]
place = "mine.toml"
nights = 2
[battery]
capacity_wh = 1000
[fridge]
running_w = 40
)");
  CHECK_THAT(output_of({"run", plan, "--stays", "200"}), Contains("2 nights at Mine"));
}

TEST_CASE("fit refuses a broken record and leaves nothing behind") {
  const TemporaryFolder folder;
  const std::string record =
      folder.write("bad.csv", "date,ghi_kwh_m2\n2021-01-01,1.0\n2021-01-01,2.0\n");
  const ProgramRun run = run_program({"fit", record, "--latitude", "38", "--longitude", "-121",
                                      "--utc-offset", "-8", "--out", folder.path("out.toml")});
  CHECK(run.exit_code == 2);
  CHECK_THAT(run.err, Contains(":3: repeats a day that was there before"));
  CHECK(folder.entries() == 1);
}

TEST_CASE("DULLSPELL_DATA names a folder whose place files are places") {
  const TemporaryFolder folder;
  const std::string home = folder.path("places");
  std::filesystem::create_directory(home);
  const std::string file = home + "/shingle-cove.toml";
  CHECK(run_program({"fit", project_file("datasets/records/us_ca_davis.csv"), "--latitude", "38.5",
                     "--longitude", "-121.8", "--utc-offset", "-8", "--name",
                     "Shingle Cove (invented)", "--out", file})
            .exit_code == 0);
  const std::vector<std::string> run{"run",     project_file("datasets/plans/winter-desert.toml"),
                                     "--stays", "200",
                                     "--set",   "camp[1].place=shingle-cove"};
  const ProgramRun unknown = run_program(run);
  CHECK(unknown.exit_code == 2);

  setenv("DULLSPELL_DATA", home.c_str(), 1);
  const ProgramRun known = run_program(run), listed = run_program({"places", "cove"});
  const ProgramRun onto = run_program(
      {"run", project_file("datasets/plans/winter-desert.toml"), "--stays", "200", "--json", file});
  setenv("DULLSPELL_DATA", folder.path("gone").c_str(), 1);
  const ProgramRun gone = run_program({"places", "cove"});
  unsetenv("DULLSPELL_DATA");
  INFO(known.err);
  CHECK(known.exit_code == 0);
  CHECK_THAT(known.out, Contains("Shingle Cove (invented)"));
  CHECK_THAT(listed.out, Contains("shingle-cove") && Contains("1 measured"));
  CHECK(onto.exit_code == 2);  // a file that is read is not written over
  CHECK(gone.exit_code == 2);
  CHECK_THAT(gone.err, Contains("DULLSPELL_DATA") && Contains("gone"));
}
