#include <cmath>
#include <regex>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "reports/number_text.hpp"
#include "tests/support/page_parts.hpp"

namespace dullspell::survey_pages_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;

namespace {

const std::string kDemo = project_file("datasets/plans/two-forest-camps.toml");
const std::string kWeekend = project_file("datasets/plans/long-weekend.toml");
const std::string kReno = project_file("datasets/records/us_nv_reno.csv");
constexpr std::size_t kMost = 400'000;

const std::vector<std::string> kCalendar{"calendar", kDemo, "--stays", "400"};
const std::vector<std::string> kWhere{"where",           kDemo,   "--stays", "400", "--box",
                                      "32,-120,42,-110", "--top", "7"};
const std::vector<std::string> kHindcast{"hindcast",    kDemo,
                                         "--stays",     "1000",
                                         "--record",    kReno,
                                         "--record-at", "39.5,-119.78",
                                         "--set",       "camp[1].place=reno-nv",
                                         "--set",       "camp[2].place=reno-nv"};

struct PageAndJson {
  std::string page;
  Json data, json;
};

PageAndJson both_of(std::vector<std::string> arguments) {
  const TemporaryFolder folder;
  const std::string json = folder.path("result.json"), html = folder.path("result.html");
  arguments.insert(arguments.end(), {"--json", json, "--html", html});
  const ProgramRun run = run_program(arguments);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  CHECK(folder.entries() == 2);
  const std::string page = text_of(html);
  return {page, data_of(page), Json::parse(text_of(json))};
}

std::string climate_of(const Json& share) {
  return share["climate_low"].is_null()
             ? "–"
             : percent_interval(Interval{share["climate_low"], share["climate_high"]});
}

// holds, flat, sampling, climate of a row.
std::vector<std::string> risk_cells(const Json& risk, double stays) {
  const Proportion flat = share_of(risk["flat"]["p"], stays);
  return {risk["holds"], percent(flat), percent_interval(flat), climate_of(risk["flat"])};
}

std::string one_decimal(const Json& value) {
  return fmt::format("{:.1f}", value.get<double>());
}

void check_order(const std::string& page, const std::vector<std::string>& headings) {
  const std::string markup = markup_of(page);
  std::size_t at = 0;
  for (const auto& heading : headings) {
    INFO(heading);
    at = markup.find(">" + heading, at);
    REQUIRE(at != std::string::npos);
  }
}

}  // namespace

TEST_CASE("a calendar's page holds the data of --json, its tables round them") {
  const auto [page, data, json] = both_of(kCalendar);
  check_same(data, json);
  const double stays = data["stays"];
  const auto weeks = table_of(page, "weeks"), along = table_of(page, "along"),
             hours = table_of(page, "hours");
  REQUIRE(weeks.size() == 52);
  REQUIRE(along.size() == 52);
  REQUIRE(hours.size() == 52);
  for (std::size_t i = 0; i < 52; ++i) {
    const Json& week = data["weeks"][i];
    const bool own =
        data["plan"]["arrive"].get<std::string>().starts_with(week["arrive"].get<std::string>());
    CHECK((weeks[i][0].find(" *") != std::string::npos) == own);
    const auto home = risk_cells(week, stays), with = risk_cells(week["generator"], stays);
    for (std::size_t c = 0; c < home.size(); ++c) {
      CHECK(weeks[i][c + 1] == home[c]);
      CHECK(along[i][c + 1] == with[c]);
    }
    CHECK(weeks[i][5] == with[1]);
    CHECK(weeks[i][6] == one_decimal(week["generator"]["hours_mean"]));
    CHECK(weeks[i][7] == one_decimal(week["generator"]["hours_p90"]));
    CHECK(hours[i][1] == one_decimal(week["generator"]["hours_mean"]));
    CHECK(hours[i][2] == one_decimal(week["generator"]["hours_p90"]));
  }
}

TEST_CASE("a survey's page holds in full the places that it shows, of others what it draws") {
  auto [page, data, json] = both_of(kWhere);
  const std::size_t all = json["places"].size();
  REQUIRE(all > 20);
  REQUIRE(data["places"].size() == 7);
  REQUIRE(data["map"]["latitude"].size() == all);
  const double stays = data["stays"];
  const auto listed = table_of(page, "map"), shown = table_of(page, "places");
  REQUIRE(listed.size() == all);
  REQUIRE(shown.size() == 7);
  std::size_t yes = 0, close = 0;
  for (std::size_t i = 0; i < all; ++i) {
    const Json& place = json["places"][i];
    CHECK(data["map"]["latitude"][i] == place["latitude"]);
    CHECK(data["map"]["longitude"][i] == place["longitude"]);
    yes += place["holds"] == "yes";
    close += place["holds"] == "close";
    const auto cells = risk_cells(place, stays);
    CHECK(listed[i][0] == "<bdi>" + place["name"].get<std::string>() + "</bdi>");
    CHECK(listed[i][1] == cells[1]);
    CHECK(listed[i][2] == cells[2]);
    CHECK(listed[i][3] == percent(share_of(place["generator"]["flat"]["p"], stays)));
    if (i >= shown.size()) continue;
    CHECK(shown[i][0] == listed[i][0]);
    for (std::size_t c = 0; c < cells.size(); ++c) CHECK(shown[i][c + 1] == cells[c]);
    CHECK(shown[i][6] == one_decimal(place["generator"]["hours_mean"]));
  }
  CHECK(data["map"]["yes"] == yes);
  CHECK(data["map"]["close"] == close);
  // What is not drawn is left out.
  json["places"].erase(json["places"].begin() + 7, json["places"].end());
  json.erase("left_out");
  check_same(data, json);
}

TEST_CASE("a hindcast's page holds the data of --json, its tables round them") {
  const auto [page, data, json] = both_of(kHindcast);
  check_same(data, json);
  const auto days = table_of(page, "days"), years = table_of(page, "years"),
             along = table_of(page, "along");
  const Json &past = data["past_years"], &model = data["model"];
  REQUIRE(days.size() == past["days"].size());
  for (std::size_t d = 0; d < days.size(); ++d) {
    const Json &was = past["days"][d]["flat_by_day"], &is = model["days"][d]["flat_by_day"];
    CHECK(days[d][2] == percent_interval(Interval{was["low"], was["high"]}));
    CHECK(std::abs(std::stod(days[d][1]) - 100.0 * was["p"].get<double>()) <= 0.5);
    CHECK(days[d][3] == percent(share_of(is["p"], model["stays"])));
    CHECK(days[d][4] == climate_of(is));
  }
  REQUIRE(years.size() == past["years"].size());
  for (std::size_t y = 0; y < years.size(); ++y) {
    const Json& year = past["years"][y];
    CHECK(years[y][0] == fmt::format("<bdi>{}</bdi>", year["year"].get<int>()));
    CHECK(years[y][1] == fmt::format("{}", year["flat"].get<int>()));
    CHECK(years[y][2] == fmt::format("of {}", year["periods"].get<int>()));
    CHECK(years[y][3] == whole_percent(year["flat"].get<double>() / year["periods"].get<double>()));
    CHECK((years[y][4] == "–") == year["first_flat_day"].is_null());
    CHECK(years[y][5] == energy(year["shortfall_wh"]));
  }
  REQUIRE(along.size() == 6);
  CHECK(along[0][2] == percent(share_of(model["flat_along"]["p"], model["stays"])));
  CHECK(along[2][2] == climate_of(model["flat_along"]));
  for (const auto& [row, key] : {std::pair{3, "mean"}, std::pair{4, "p50"}, std::pair{5, "p90"}}) {
    const auto& cells = along[static_cast<std::size_t>(row)];
    CHECK(cells[1] == one_decimal(past["generator_hours"][key]));
    CHECK(cells[2] == one_decimal(model["generator_hours"][key]));
  }
}

TEST_CASE("pages of surveys tell the decision first, then what to do, why, what is unknown") {
  const std::string last = "What it does not know";
  check_order(page_of(kCalendar),
              {"Without its generator this stay works in no week", "What to do", "Why",
               "Risk by week of arrival", "Risk with the generator along", "Generator hours", last,
               "Cautions", "Carbon monoxide kills"});
  check_order(page_of(kWhere),
              {"Without its generator this stay works at", "What to do", "Why", "Where it works",
               "The best 7 places", last, "Cautions", "Carbon monoxide kills"});
  check_order(
      page_of(kHindcast),
      {"In past years this stay without the generator would have run flat", "What to do", "Why",
       "Flat by then", "The years", "Generator hours", last, "Cautions", "Carbon monoxide kills"});
  CHECK_THAT(markup_of(page_of(kHindcast)), Contains("In the record: "));
}

TEST_CASE("without a generator pages of surveys have no charts of it") {
  const std::string calendar = page_of({"calendar", kWeekend, "--stays", "200"});
  for (const auto* id : {"along-chart", "hours-chart"})
    CHECK(calendar.find(id) == std::string::npos);
  CHECK_THAT(calendar, Contains("id=\"weeks-chart\""));
  const std::string where =
      page_of({"where", kWeekend, "--stays", "100", "--near", "38.6,-109.5", "--within", "300"});
  CHECK(table_of(where, "map").front().size() == 3);
}

TEST_CASE("a typical year's page has no chart of years") {
  const std::string page =
      page_of({"hindcast", kDemo, "--stays", "500", "--record",
               project_file("datasets/records/tmy3_725847_south_lake_tahoe.csv"), "--set",
               "camp[1].place=south-lake-tahoe-ca"});
  CHECK(page.find("years-chart") == std::string::npos);
  CHECK_THAT(markup_of(page), Contains("A typical year is no past year"));
}

TEST_CASE("hostile titles stay text on pages of surveys") {
  std::string plan = text_of(kDemo);
  plan =
      std::regex_replace(plan, std::regex("title *= *\"[^\"]*\""), "title = \"" + kHostile + "\"");
  for (auto arguments : {kCalendar, kWhere, kHindcast}) {
    const std::string tame = page_of(arguments);
    arguments[1] = "-";
    const std::string page = page_of(arguments, plan);
    check_no_more_markup(page, tame);
    CHECK_THAT(markup_of(page), Contains("<h1><bdi>&lt;/script&gt;&lt;script&gt;alert(1)"));
  }
}

TEST_CASE("a record's name stays text on a hindcast's page") {
  const TemporaryFolder folder;
  const std::string name = "<img src=x onerror=alert(1)>&amp;. b.csv";
  const std::string record = folder.write(name, text_of(kReno));
  auto arguments = kHindcast;
  const std::string tame = page_of(arguments);
  arguments[5] = record;
  const std::string page = page_of(arguments);
  check_no_more_markup(page, tame);
  CHECK_THAT(markup_of(page), Contains("&lt;img src=x onerror=alert(1)&gt;&amp;amp;. b"));
}

TEST_CASE("pages of surveys stay below 400 KB, whatever is to be shown") {
  // No furnace and no fridge: also places without temperatures can be asked about.
  const std::string lamp =
      "arrive = 2027-05-21T15:00:00\n[[camp]]\nplace = \"reno-nv\"\nnights = 3\n[battery]\n"
      "capacity_wh = 400\n[[panels]]\nrated_w = 60\n[[load]]\nname = \"lamp\"\nwatts = 15\n"
      "[generator]\nrated_w = 500\ncharger_w = 300\nallowed = [[\"08:00\", \"20:00\"]]\n";
  const std::string all = page_of({"where", "-", "--stays", "200", "--top", "100000"}, lamp);
  CHECK(table_of(all, "map").size() > 850);
  CHECK(table_of(all, "places").size() == 40);
  CHECK_THAT(markup_of(all), Contains("A page shows no more than 40 places in full"));
  CHECK(all.size() < kMost);
  CHECK(page_of(kCalendar).size() < kMost);
  CHECK(page_of(kHindcast).size() < kMost);
}

TEST_CASE("pages of surveys are written whole or not at all") {
  for (auto arguments : {kCalendar, kWhere, kHindcast}) {
    const TemporaryFolder folder;
    const std::string target = folder.write("page.html", "old");
    const std::string bad = folder.write("bad.toml", "arrive = 1\n");
    arguments.insert(arguments.end(), {"--html", target});
    auto wrong = arguments;
    wrong[1] = bad;
    CHECK(run_program(wrong).exit_code == 2);
    CHECK(text_of(target) == "old");
    CHECK(folder.entries() == 2);
    CHECK(run_program(arguments).exit_code == 0);
    CHECK_THAT(text_of(target), Catch::Matchers::EndsWith("</html>\n"));
    CHECK(folder.entries() == 2);
    auto both = arguments;
    both.back() = "-";
    both.insert(both.end(), {"--json", "-"});
    CHECK(run_program(both).exit_code == 2);
  }
}

}  // namespace dullspell::survey_pages_test
