#include <algorithm>
#include <regex>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "reports/difference_text.hpp"
#include "reports/number_text.hpp"
#include "reports/size_tables.hpp"
#include "tests/support/page_parts.hpp"

namespace dullspell::decision_pages_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;

namespace {

const std::string kDemo = project_file("datasets/plans/two-forest-camps.toml");
const std::string kWinter = project_file("datasets/plans/winter-desert.toml");
const std::string kWeekend = project_file("datasets/plans/long-weekend.toml");

const std::string kOptions = R"(
[[option]]
name = "two boxes"
battery_wh = 4096
weight_kg = 38.5
price = 2600
[[option]]
name = "one"
battery_wh = 1500
price = 900
)";

// The page of a command, and the same result as JSON.
struct Made {
  std::string page;
  Json data, json;
};

Made made(std::vector<std::string> arguments, const std::string& input = "") {
  Made out;
  out.page = page_of(arguments, input);
  out.data = data_of(out.page);
  arguments.insert(arguments.end(), {"--json", "-"});
  out.json = Json::parse(run_program(arguments, input).out);
  return out;
}

Interval interval_of(const Json& json, const char* low = "low", const char* high = "high") {
  return {json[low].get<double>(), json[high].get<double>()};
}

PairedDifference paired(const Json& json) {
  PairedDifference out;
  out.difference = json["difference"];
  out.interval = interval_of(json);
  return out;
}

MeanDifference mean(const Json& json) {
  return {json["difference"], interval_of(json)};
}

std::string name_of(const std::string& cell) {
  return between(cell, "<bdi>", "</bdi>");
}

void check_order(const std::string& page, const std::vector<std::string>& headings) {
  std::size_t at = 0;
  for (const auto& heading : headings) {
    INFO(heading);
    at = markup_of(page).find(">" + heading, at);
    REQUIRE(at != std::string::npos);
  }
}

// A chart that no table stands beside could not be read with scripts off.
void check_charts_have_tables(const std::string& page) {
  const std::string markup = markup_of(page);
  const std::regex canvas("<canvas id=\"([a-z]+)-chart\"");
  std::size_t charts = 0;
  for (std::sregex_iterator i(markup.begin(), markup.end(), canvas), end; i != end; ++i) {
    const std::string id = (*i)[1];
    INFO(id);
    CHECK(!table_of(page, id).empty());
    CHECK_THAT(page.substr(page.rfind("draw_charts({")), Contains(id));
    ++charts;
  }
  CHECK(charts > 0);
}

std::string with_options(const std::string& name = "two boxes") {
  std::string options = kOptions;
  options.replace(options.find("two boxes"), 9, name);
  return "currency = \"USD\"\n" + text_of(kDemo) + options;
}

}  // namespace

TEST_CASE("a page of sizes holds the data of --json, and its tables say them") {
  const Made size = made({"size", "-", "--vary", "both", "--stays", "2000"}, with_options());
  check_same(size.data, size.json);
  check_charts_have_tables(size.page);
  const double stays = size.data["stays"];

  const auto tried = table_of(size.page, "tried");
  REQUIRE(tried.size() == size.data["curve"].size());
  for (std::size_t i = 0; i < tried.size(); ++i) {
    const Json& risk = size.data["curve"][i];
    const Proportion flat = share_of(risk["flat"]["p"], stays);
    CHECK(name_of(tried[i][0]) == size_text(SizeOf::battery, risk["battery_wh"]));
    CHECK(tried[i][1] == percent(flat));
    CHECK(tried[i][2] == percent_interval(flat));
  }

  const auto frontier = table_of(size.page, "frontier");
  REQUIRE(frontier.size() == size.data["frontier"].size());
  for (std::size_t i = 0; i < frontier.size(); ++i) {
    const Json& point = size.data["frontier"][i];
    CHECK(name_of(frontier[i][0]) == size_text(SizeOf::panels, point["panels_w"]));
    if (point["least"].is_null()) {
      CHECK(frontier[i][1] == "none does");
      continue;
    }
    const double least = point["least"]["battery_wh"];
    CHECK(frontier[i][4] ==
          size_range(SizeOf::battery, least, interval_of(point["least"]["sampling"])));
    CHECK(frontier[i][5] ==
          size_range(SizeOf::battery, least, interval_of(point["least"]["climate"])));
  }

  const auto options = table_of(size.page, "options");
  REQUIRE(options.size() == 2);
  for (std::size_t i = 0; i < options.size(); ++i) {
    const Json& option = size.data["options"][i];
    const Proportion flat = share_of(option["flat"]["p"], stays);
    CHECK(name_of(options[i][0]) == option["name"].get<std::string>());
    CHECK(options[i][3] == percent(flat));
    CHECK(options[i][4] == percent_interval(flat));
    CHECK(options[i][5] ==
          percent_interval(interval_of(option["flat"], "climate_low", "climate_high")));
    CHECK(options[i][8] == (option["meets_target"] == true ? "yes" : "no"));
  }
  CHECK(options[0][6] == "38.5 kg");
  CHECK(options[1][6] == "–");
  CHECK(options[0][7] == "2600");
}

TEST_CASE("a page of sizes says what to buy, then why") {
  const std::string page =
      page_of({"size", "-", "--vary", "both", "--stays", "1000"}, with_options());
  check_order(page, {"The battery needs ", "What to do", "Bring a battery of",
                     "Buy by what is sold: ", "Of the options, the cheapest that ", "Why",
                     "Risk by size of the battery", "Panels against battery", "Options",
                     "What it does not know", "Cautions"});
  CHECK_THAT(markup_of(page), Contains("(2600 USD)"));

  const std::string enough =
      page_of({"size", kDemo, "--stays", "1000", "--set", "battery.capacity_wh=9000"});
  check_order(enough,
              {"The plan&#39;s 9000 Wh is enough", "What to do", "Keep the plan&#39;s battery",
               "If weight or price matters, less would do."});
  CHECK_THAT(markup_of(enough), Contains("class=\"holds\""));

  const std::string panels = page_of({"size", kDemo, "--vary", "panels", "--stays", "1000"});
  check_order(panels, {"It needs panels of ", "Bring panels of", "Risk by size of the panels"});
}

TEST_CASE("a page says what would help where no size does") {
  const std::string page =
      page_of({"size", kDemo, "--stays", "500", "--set", "load[1].watts=3000"});
  check_order(page, {"No size of battery lasts", "Do not buy larger batteries: no size does.",
                     "What would help:", "Risk by size of the battery"});
  CHECK_THAT(markup_of(page), Contains("class=\"fails\"") && !Contains("id=\"sizes\""));
  CHECK(data_of(page)["least"].is_null());
}

TEST_CASE("a page of a comparison holds the data of --json, and its tables say them") {
  const Made compared = made({"compare", kWeekend, kDemo, kWinter, "--stays", "2000"});
  check_same(compared.data, compared.json);
  check_charts_have_tables(compared.page);
  const double stays = compared.data["stays"];
  const Json& plans = compared.data["plans"];

  const auto home = table_of(compared.page, "home"), planned = table_of(compared.page, "planned");
  const auto differences = table_of(compared.page, "differences");
  const auto generators = table_of(compared.page, "generators");
  REQUIRE(home.size() == 3);
  REQUIRE(differences.size() == 2);
  CHECK(generators[0][1] == "none");
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const Json& along = plans[i]["generator"];
    for (const auto& [table, risk] :
         {std::pair{&home, plans[i]["flat_home"]},
          std::pair{&planned, along.is_null() ? plans[i]["flat_home"] : along["flat"]}}) {
      const auto& row = (*table)[i];
      const Proportion flat = share_of(risk["p"], stays);
      CHECK(name_of(row[0]) == plans[i]["letter"]);
      CHECK(row[1] == percent(flat));
      CHECK(row[2] == percent_interval(flat));
      CHECK(row[3] == percent_interval(interval_of(risk, "climate_low", "climate_high")));
    }
    if (i == 0) continue;
    const Json& against = plans[i]["against_first"];
    CHECK(differences[i - 1][1] == signed_points(paired(against["flat_home"])));
    CHECK(differences[i - 1][2] == signed_points_interval(paired(against["flat_home"])));
    CHECK(differences[i - 1][5] == signed_points(paired(against["flat_as_planned"])));
    CHECK(differences[i - 1][6] == signed_points_interval(paired(against["flat_as_planned"])));
    CHECK(generators[i][1] == fmt::format("{:.1f}", along["hours"]["p50"].get<double>()));
    CHECK(generators[i][3] == fuel_number(along["fuel_l"]["p50"], Fuel::gasoline, Units::metric));
  }
}

TEST_CASE(
    "a page of a comparison says which plan to take, and holds them all under their letters") {
  const TemporaryFolder folder;
  std::string large = text_of(kDemo);
  large.replace(large.find("= 150"), 5, "= 230");
  const std::string page =
      page_of({"compare", kDemo, folder.write("large.toml", large), "--stays", "2000"});
  check_order(page, {"2 plans on the same weather", "With generators left at home: B is safer.",
                     "What to do", "If generators stay at home: take B, ", "Why",
                     "Running flat, generators left at home",
                     "Running flat as written, generators along", "Against A, in points",
                     "Generator along, run as planned", "An average day, and the plans", "A: <bdi>",
                     "B: <bdi>", "What it does not know", "Cautions"});
  CHECK(count_of(markup_of(page), "4 nights at Crescent City, CA") == 2);

  const std::string bare = page_of({"compare", kWeekend, kWeekend, "--stays", "400"});
  CHECK_THAT(markup_of(bare), Contains("take what is cheapest, lightest or easiest") ||
                                  Contains("Take what is cheapest, lightest or easiest"));
  CHECK_THAT(markup_of(bare), !Contains("id=\"generators\"") && !Contains("id=\"planned\""));
  check_charts_have_tables(bare);
}

TEST_CASE("a page of levers holds the data of --json, and its tables say them") {
  const Made levers = made({"levers", kDemo, "--top", "2", "--stays", "2000"});
  check_same(levers.data, levers.json);
  check_charts_have_tables(levers.page);
  const double stays = levers.data["stays"];
  const auto points = table_of(levers.page, "levers"), after = table_of(levers.page, "after");
  const std::size_t count = levers.data["levers"].size();
  REQUIRE(points.size() == count + 1);
  REQUIRE(after.size() == count + 1);
  CHECK(after[0][1] == percent(share_of(levers.data["flat_home"]["p"], stays)));
  for (const Json& lever : levers.data["levers"]) {
    const std::string change = lever["change"];
    INFO(change);
    const auto row = std::find_if(points.begin(), points.end(), [&](const auto& r) {
      return r[0] == "<bdi>" + change + "</bdi>";
    });
    REQUIRE(row != points.end());
    const Proportion flat = share_of(lever["flat"]["p"], stays);
    const PairedDifference difference = paired(lever["difference"]);
    const MeanDifference hours = mean(lever["generator_h"]);
    CHECK((*row)[1] == percent(flat));
    CHECK((*row)[2] == signed_points(difference));
    CHECK((*row)[3] == signed_points_interval(difference));
    CHECK((*row)[4] ==
          signed_points_range(interval_of(lever["difference"], "climate_low", "climate_high")));
    CHECK((*row)[6] == signed_hours(hours));
    CHECK((*row)[7] == signed_hours_interval(hours));
    const auto& risk = after[static_cast<std::size_t>(row - points.begin())];
    CHECK(risk[0] == (*row)[0]);
    CHECK(risk[2] == percent_interval(flat));
  }
}

TEST_CASE("a page of levers says what to change first, then why") {
  const std::string page = page_of({"levers", kDemo, "--stays", "1000"});
  check_order(page, {"Camping in the open cuts the risk by ", "What to do", "Bring the generator: ",
                     "To need less, begin with what you can best do without", "Why",
                     "What each change does", "helps:", "Running flat with each change",
                     "What it does not know", "Cautions"});
  CHECK_THAT(markup_of(page), Contains("medical devices stay on"));
  const std::string holds =
      page_of({"levers", kDemo, "--stays", "400", "--set", "battery.capacity_wh=100000"});
  check_order(holds, {"With the generator left at home the battery runs flat in none",
                      "Change nothing unless you like to"});
}

TEST_CASE("hostile titles and names stay text on every page") {
  std::string plan = with_options(kHostile);
  plan =
      std::regex_replace(plan, std::regex("title *= *\"[^\"]*\""), "title = \"" + kHostile + "\"");
  plan += "\n[[load]]\nname = \"" + kHostile + "\"\nside = \"dc\"\nwatts = 9\n";
  const std::string tame =
      with_options() + "\n[[load]]\nname = \"tame\"\nside = \"dc\"\nwatts = 9\n";
  const std::string title = "<bdi>&lt;/script&gt;&lt;script&gt;alert(1)";
  for (const auto& arguments : {std::vector<std::string>{"size", "-", "--stays", "500"},
                                std::vector<std::string>{"compare", "-", kDemo, "--stays", "500"},
                                std::vector<std::string>{"levers", "-", "--stays", "500"}}) {
    INFO(arguments.front());
    const std::string page = page_of(arguments, plan);
    check_no_more_markup(page, page_of(arguments, tame));
    CHECK_THAT(markup_of(page), Contains(title));
  }
}

TEST_CASE("pages of decisions stay below 400 KB, and are written whole or not at all") {
  constexpr std::size_t kMost = 400'000;
  CHECK(page_of({"size", "-", "--vary", "both", "--stays", "500"}, with_options()).size() < kMost);
  CHECK(page_of({"compare", kDemo, kDemo, kDemo, kDemo, kWinter, kWinter, kWinter, kWinter,
                 "--stays", "400"})
            .size() < kMost);
  CHECK(page_of({"levers", kDemo, "--stays", "400"}).size() < kMost);

  for (const std::string command : {"size", "compare", "levers"}) {
    INFO(command);
    const TemporaryFolder folder;
    const std::string target = folder.write("page.html", "old");
    const std::string bad = folder.write("bad.toml", "arrive = 1\n");
    std::vector<std::string> arguments{command, bad, "--stays", "200", "--html", target};
    if (command == "compare") arguments.insert(arguments.begin() + 1, kDemo);
    CHECK(run_program(arguments).exit_code == 2);
    CHECK(text_of(target) == "old");
    std::replace(arguments.begin(), arguments.end(), bad, kDemo);
    const ProgramRun run = run_program(arguments);
    CHECK(run.exit_code == 0);
    CHECK_THAT(run.out, Contains("Cautions"));
    CHECK_THAT(text_of(target), Catch::Matchers::StartsWith("<!DOCTYPE html>") &&
                                    Catch::Matchers::EndsWith("</html>\n"));
    CHECK(folder.entries() == 2);
    arguments.back() = "-";
    arguments.insert(arguments.end(), {"--csv", "-"});
    CHECK(run_program(arguments).exit_code == 2);
  }
}

}  // namespace dullspell::decision_pages_test
