#include <catch2/catch.hpp>

#include <algorithm>
#include <sstream>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "reports/number_text.hpp"
#include "tests/support/run_program.hpp"

namespace dullspell::surveys_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using nlohmann::json;

namespace {

const std::string kPlan = project_file("datasets/plans/two-forest-camps.toml");
const std::string kWeekend = project_file("datasets/plans/long-weekend.toml");

std::string output_of(std::vector<std::string> arguments) {
  const ProgramRun run = run_program(std::move(arguments));
  INFO(run.err);
  CHECK(run.exit_code == 0);
  return run.out;
}

json json_of(std::vector<std::string> arguments) {
  arguments.insert(arguments.end(), {"--json", "-"});
  return json::parse(output_of(std::move(arguments)));
}

std::string refused(std::vector<std::string> arguments) {
  const ProgramRun run = run_program(std::move(arguments));
  CHECK(run.exit_code == 2);
  CHECK(run.out.empty());
  return run.err;
}

// Cells of a line, quoted ones included.
std::vector<std::string> cells(const std::string& line) {
  std::vector<std::string> out(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      out.emplace_back();
    } else {
      out.back() += c;
    }
  }
  return out;
}

std::vector<std::vector<std::string>> table(const std::string& text) {
  std::vector<std::vector<std::string>> out;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) out.push_back(cells(line));
  return out;
}

}  // namespace

TEST_CASE("a week of the calendar is the run of a plan that arrives then") {
  const json calendar = json_of({"calendar", kPlan, "--stays", "1600"});
  CHECK(calendar["format"] == "dullspell.calendar/1");
  REQUIRE(calendar["weeks"].size() == 52);
  CHECK(calendar["weeks"][20]["arrive"] == "2027-05-21");
  for (const std::size_t week : {0U, 20U, 37U}) {
    const json& entry = calendar["weeks"][week];
    const json run =
        json_of({"run", kPlan, "--stays", "1600", "--set",
                 fmt::format("arrive={}T15:00:00", entry["arrive"].get<std::string>())});
    CHECK(entry["flat"] == run["stay"]["flat"]);
    CHECK(entry["generator"]["flat"] == run["generator"]["flat"]);
    CHECK(entry["generator"]["hours_mean"] == run["generator"]["hours"]["mean"]);
    CHECK(entry["generator"]["hours_p90"] == run["generator"]["hours"]["p90"]);
  }
}

TEST_CASE("the calendar writes every week as JSON and CSV, and the same for any threads") {
  const TemporaryFolder folder;
  const std::string csv = folder.path("weeks.csv");
  const std::string text =
      output_of({"calendar", kWeekend, "--stays", "300", "--threads", "1", "--csv", csv});
  CHECK_THAT(text, StartsWith("A long weekend") && Contains("This stay works") &&
                       Contains("\n  10 Sep *") && Contains("300 stays each, seed 1"));
  const auto rows = table(text_of(csv));
  REQUIRE(rows.size() == 53);
  for (const auto& row : rows) CHECK(row.size() == rows.front().size());
  CHECK(rows[0][0] == "arrive");
  CHECK(rows[1][0] == "2027-01-01");
  CHECK(output_of({"calendar", kWeekend, "--stays", "300", "--threads", "3"}) == text);
  const json calendar = json_of({"calendar", kWeekend, "--stays", "300"});
  for (std::size_t i = 0; i < 52; ++i) {
    CHECK(std::stod(rows[i + 1][1]) == calendar["weeks"][i]["flat"]["p"].get<double>());
  }
  CHECK(calendar["season_with_generator"].is_null());
  std::size_t held = 0, in_season = 0;
  for (const auto& week : calendar["weeks"]) held += week["holds"] == "yes";
  for (const auto& run : calendar["season"]) in_season += run["weeks"].get<std::size_t>();
  CHECK(in_season == held);
}

TEST_CASE("beyond the equator the season is the other half of the year") {
  // Monthly means half a year apart, and as far south as north.
  const auto plan = [](double latitude, double azimuth, const char* ghi) {
    return fmt::format(
        "arrive = 2027-01-08T15:00:00\n[[camp]]\nnights = 3\n[camp.place]\nlatitude = "
        "{}\nlongitude "
        "= 0\nutc_offset_h = 0\nghi_kwh_m2 = {}\n[battery]\ncapacity_wh = 500\n[[panels]]\nrated_w "
        "= 220\nmount = {{ tilt_deg = 40, azimuth_deg = {} }}\n[[load]]\nname = \"lamp\"\nwatts = "
        "20\n",
        latitude, ghi, azimuth);
  };
  const auto season = [](const std::string& text) {
    const ProgramRun run = run_program({"calendar", "-", "--stays", "400", "--json", "-"}, text);
    INFO(run.err);
    REQUIRE(run.exit_code == 0);
    return json::parse(run.out)["season"];
  };
  const json north =
      season(plan(45, 180, "[1.3, 2.2, 3.4, 4.5, 5.6, 6.2, 6.4, 5.5, 4.1, 2.6, 1.5, 1.1]"));
  const json south =
      season(plan(-45, 0, "[6.4, 5.5, 4.1, 2.6, 1.5, 1.1, 1.3, 2.2, 3.4, 4.5, 5.6, 6.2]"));
  REQUIRE(north.size() == 1);
  REQUIRE(south.size() == 1);
  CHECK(north[0]["first_arrival"].get<std::string>() < north[0]["last_arrival"].get<std::string>());
  // Over the new year.
  CHECK(south[0]["first_arrival"].get<std::string>() > south[0]["last_arrival"].get<std::string>());
}

TEST_CASE("a place of the survey is the run of a plan at that place") {
  const std::vector<std::string> around{"--near", "39,-120", "--within", "100"};
  std::vector<std::string> arguments{"where", kPlan, "--stays", "1600", "--top", "2"};
  arguments.insert(arguments.end(), around.begin(), around.end());
  const json survey = json_of(arguments);
  CHECK(survey["format"] == "dullspell.where/1");
  CHECK(survey["filter"]["near"] == json::array({39.0, -120.0}));
  CHECK(survey["filter"]["within_km"] == 100.0);
  CHECK(survey["filter"]["box"].is_null());
  REQUIRE(survey["places"].size() >= 3);
  for (std::size_t i = 0; i < survey["places"].size(); ++i) {
    const json& place = survey["places"][i];
    const std::string id = place["id"];
    INFO(id);
    const json run = json_of({"run", kPlan, "--stays", "1600", "--set", "camp[1].place=" + id,
                              "--set", "camp[2].place=" + id});
    CHECK(place["flat"]["p"] == run["stay"]["flat"]["p"]);
    CHECK(place["generator"]["hours_p90"] == run["generator"]["hours"]["p90"]);
    if (i < 2) {
      CHECK(place["flat"] == run["stay"]["flat"]);
    } else {
      CHECK(place["flat"]["climate_low"].is_null());
    }
  }
  const json own = json_of({"run", kPlan, "--stays", "1600"});
  CHECK(survey["as_planned"]["flat"]["p"] == own["stay"]["flat"]["p"]);
}

TEST_CASE("the survey of places writes a map, a table and a report of the same places") {
  const TemporaryFolder folder;
  const std::string csv = folder.path("places.csv"), map = folder.path("map.geojson");
  const std::string text =
      output_of({"where", kWeekend, "--stays", "200", "--box=32,-115,38,-105", "--threads", "2",
                 "--top", "3", "--csv", csv, "--geojson", map});
  CHECK_THAT(text, Contains("This stay works at ") && Contains("The best 3 places, the safest"));
  const auto rows = table(text_of(csv));
  const json geo = json::parse(text_of(map));
  // RFC 7946, sections 3.1.2, 3.2 and 3.3.
  CHECK(geo["type"] == "FeatureCollection");
  REQUIRE(geo["features"].size() + 1 == rows.size());
  for (std::size_t i = 0; i < geo["features"].size(); ++i) {
    const json& feature = geo["features"][i];
    CHECK(feature["type"] == "Feature");
    CHECK(feature["geometry"]["type"] == "Point");
    const json& at = feature["geometry"]["coordinates"];
    REQUIRE(at.size() == 2);
    CHECK((at[0] >= -115.0 && at[0] <= -105.0));  // longitude first
    CHECK((at[1] >= 32.0 && at[1] <= 38.0));
    const json& properties = feature["properties"];
    CHECK(properties["low"] <= properties["p"]);
    CHECK(properties["p"] <= properties["high"]);
    const auto& row = rows[i + 1];
    REQUIRE(row.size() == rows[0].size());
    CHECK(row[1] == properties["id"].get<std::string>());
    CHECK(row[2] == properties["name"].get<std::string>());
    CHECK(std::stod(row[9]) == properties["p"].get<double>());
    if (i > 0) CHECK(geo["features"][i - 1]["properties"]["p"] <= properties["p"]);
  }
  CHECK(output_of({"where", kWeekend, "--stays", "200", "--box=32,-115,38,-105", "--threads", "1",
                   "--top", "3"}) == text);
}

TEST_CASE("a place's id with a comma stays one cell of the CSV") {
  const TemporaryFolder folder;
  const std::string places = folder.path("places");
  std::filesystem::create_directory(places);
  REQUIRE(run_program({"fit", project_file("datasets/records/us_ca_davis.csv"), "--latitude",
                       "38.5", "--longitude", "-121.8", "--utc-offset", "-8", "--name", "Cove",
                       "--out", places + "/cove, north.toml"})
              .exit_code == 0);
  const ProgramRun run = run_words(program_words({"where", kWeekend, "--stays", "100", "--near",
                                                  "38.5,-121.8", "--within", "1", "--csv", "-"}),
                                   "", "", {"DULLSPELL_DATA=" + places});
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out, Contains(",\"cove, north\",Cove,"));
}

TEST_CASE("reports of surveys fit 92 columns") {
  const std::vector<std::vector<std::string>> all{
      {"where", kPlan, "--stays", "100", "--box=32,-120,42,-110", "--top", "60"},
      {"where", kPlan, "--stays", "100", "--near", "38,-120", "--within", "400"},
      {"where", kWeekend, "--stays", "100", "--near", "0,0", "--within", "20040", "--top", "100"},
      {"calendar", kPlan, "--stays", "100"}};
  for (const auto& arguments : all) {
    std::istringstream lines(output_of(arguments));
    for (std::string line; std::getline(lines, line);) {
      INFO(line);
      CHECK(dullspell::display_width(line) <= 92);
    }
  }
}

TEST_CASE("places are chosen by elevation and kind, and those of unknown elevation are counted") {
  const json high = json_of({"where", kWeekend, "--stays", "100", "--elevation", "2000,2500"});
  REQUIRE(!high["places"].empty());
  for (const auto& place : high["places"]) {
    CHECK((place["elevation_m"] >= 2000.0 && place["elevation_m"] <= 2500.0));
  }
  const auto unknown =
      std::count_if(high["left_out"].begin(), high["left_out"].end(),
                    [](const json& place) { return place["why"] == "elevation unknown"; });
  CHECK(unknown > 0);
  const json measured =
      json_of({"where", kWeekend, "--stays", "100", "--kind", "measured", "--top", "1"});
  for (const auto& place : measured["places"]) CHECK(place["record"] == "measured");
}

TEST_CASE("surveys refuse a stay under way and leave out what is known of its days") {
  for (const char* command : {"calendar", "where"}) {
    CHECK_THAT(
        refused({command, kPlan, "--set", "now=2027-05-24T09:00:00", "--set",
                 "battery.start_charge=0.5"}),
        Contains("now is given") && Contains("cannot be moved") && Contains("dullspell run"));
    CHECK_THAT(refused({command, kPlan, "--precision", "0.01"}),
               Contains("--precision") && Contains("--stays"));
    CHECK_THAT(refused({command, kPlan, "--stays", "0"}), Contains("--stays is `0`"));
    CHECK_THAT(refused({command, kPlan, "--json", "-", "--csv", "-"}), Contains("--csv is -"));
    CHECK_THAT(refused({command, "no-such.toml"}), Contains("no-such.toml"));
  }
  const json plain = json_of({"calendar", kWeekend, "--stays", "100"});
  const json known = json_of({"calendar", kWeekend, "--stays", "100", "--set", "yesterday=overcast",
                              "--set", "forecast=[{ day = 1, sky = \"clear\" }]"});
  CHECK(known["weeks"] == plain["weeks"]);
  CHECK_THAT(known["notes"].dump(), Contains("forecast") && Contains("left out"));
  CHECK_THAT(plain["notes"].dump(), !Contains("forecast"));
  const std::string there = output_of({"where", kWeekend, "--stays", "100", "--near", "38.6,-109.5",
                                       "--within", "50", "--set", "yesterday=overcast"});
  CHECK_THAT(there, Contains("yesterday"));
}

TEST_CASE("wrong choices of places are refused with what is allowed") {
  const auto where = [](std::vector<std::string> more) {
    more.insert(more.begin(), {"where", kWeekend, "--stays", "100"});
    return refused(std::move(more));
  };
  CHECK_THAT(where({"--near", "41,-124"}), Contains("--near is given without --within"));
  CHECK_THAT(where({"--within", "100"}), Contains("--within is given without --near"));
  CHECK_THAT(where({"--near", "41,-124", "--within", "0"}), Contains("--within is `0`"));
  CHECK_THAT(where({"--box", "1,2,3"}), Contains("--box is `1,2,3`") && Contains("SOUTH,WEST"));
  CHECK_THAT(where({"--box", "10,0,0,10"}), Contains("beyond its north"));
  CHECK_THAT(where({"--box", "10,0,x,10"}), Contains("--box is `x`"));
  CHECK_THAT(where({"--elevation", "100"}), Contains("LOW,HIGH"));
  CHECK_THAT(where({"--elevation", "200,100"}), Contains("the lower one first"));
  CHECK_THAT(where({"--kind", "guessed"}), Contains("--kind is `guessed`") && Contains("measured"));
  CHECK_THAT(where({"--top", "0"}), Contains("--top is `0`"));
  CHECK_THAT(where({"--near", "-60,-140", "--within", "10"}),
             Contains("--near and --within leave no place"));
}

TEST_CASE("files of a survey are written whole or not at all") {
  const TemporaryFolder folder;
  CHECK_THAT(refused({"where", kWeekend, "--stays", "100", "--csv", folder.path("a.csv"),
                      "--geojson", folder.path("none/b.geojson")}),
             Contains("--geojson") && Contains("does not exist"));
  CHECK(folder.entries() == 0);
}

TEST_CASE("parts of a survey of cells put together are the whole one") {
  const auto part = [](const std::string& which) {
    return output_of({"where", kWeekend, "--stays", "200", "--grid", "2", "--box=32,-120,42,-104",
                      "--part", which, "--csv", "-"});
  };
  const std::string whole = part("1/1");
  // Five rows of eight, but for the one in the Pacific.
  CHECK(std::count(whole.begin(), whole.end(), '\n') == 1 + 5 * 8 - 1);
  CHECK(part("1/3") + part("2/3") + part("3/3") == whole);
  const ProgramRun run = run_program({"where", kWeekend, "--part", "4/3", "--csv", "-"});
  CHECK(run.exit_code == 2);
  CHECK_THAT(run.err, Contains("--part is `4`; allowed: a whole number from 1 to 3"));
}

TEST_CASE("a survey of cells is that of their middles, and its map is made of squares") {
  const TemporaryFolder folder;
  const std::string map = folder.path("map.geojson");
  const json found = json_of({"where", kWeekend, "--stays", "400", "--grid", "2", "--near",
                              "Moab, UT", "--within", "200", "--geojson", map});
  CHECK(found["grid_deg"] == 2.0);
  REQUIRE(found["places"].size() >= 2);
  const json& first = found["places"][0];
  const std::string spot =
      fmt::format("camp[1].place={{latitude={},longitude={}}}", first["latitude"].get<double>(),
                  first["longitude"].get<double>());
  const json alone =
      json::parse(output_of({"run", kWeekend, "--stays", "400", "--set", spot, "--json", "-"}));
  CHECK(alone["stay"]["flat"]["p"] == first["flat"]["p"]);
  const json feature = json::parse(text_of(map))["features"][0];
  CHECK(feature["geometry"]["type"] == "Polygon");
  CHECK(feature["geometry"]["coordinates"][0].size() == 5);
  for (const auto& arguments :
       std::vector<std::vector<std::string>>{{"--grid", "1"},
                                             {"--grid", "1", "--box=30,-140,40,-130"},
                                             {"--grid", "0.05", "--box=-60,-170,60,170"}}) {
    std::vector<std::string> all{"where", kWeekend};
    all.insert(all.end(), arguments.begin(), arguments.end());
    CHECK(run_program(all).exit_code == 2);
  }
}

}  // namespace dullspell::surveys_test
