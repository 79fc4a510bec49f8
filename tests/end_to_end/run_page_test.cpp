#include <regex>

#include <catch2/catch.hpp>

#include "reports/number_text.hpp"
#include "tests/support/page_parts.hpp"
#include "tests/support/text_width.hpp"

namespace dullspell::run_page_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;

namespace {

const std::string kDemo = project_file("datasets/plans/two-forest-camps.toml");

std::string run_page(std::vector<std::string> arguments, const std::string& input = "") {
  arguments.insert(arguments.begin(), "run");
  return page_of(arguments, input);
}

}  // namespace

TEST_CASE("a page's data are those of --json, to six digits") {
  const TemporaryFolder folder;
  const std::string json = folder.path("result.json"), html = folder.path("result.html");
  const ProgramRun run =
      run_program({"run", kDemo, "--stays", "1000", "--doubt", "--json", json, "--html", html});
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("Day by day"));
  const Json data = data_of(text_of(html));
  Json result = Json::parse(text_of(json));
  // Hours that the generator never runs for are left out.
  Json& histogram = result["generator"]["hours_histogram"];
  for (; histogram.size() > 1 && histogram.back()["share"] == 0.0;)
    histogram.erase(histogram.size() - 1);
  result["generator"].erase("days");  // nothing draws them
  for (Json& hour : result["hours"]) {
    hour.erase("camp");
    hour.erase("night");
  }
  check_same(data, result);
  CHECK(folder.entries() == 2);
}

TEST_CASE("a page's tables say what its data say, rounded to their intervals") {
  const std::string page = run_page({kDemo, "--stays", "2000", "--doubt"});
  const Json data = data_of(page);
  const double stays = data["stays"];

  const auto risk = table_of(page, "risk");
  REQUIRE(risk.size() == data["days"].size());
  for (std::size_t i = 0; i < risk.size(); ++i) {
    const Json& day = data["days"][i];
    const Proportion on = share_of(day["flat_on_day"]["p"], stays);
    const Proportion by = share_of(day["flat_by_day"]["p"], stays);
    CHECK(risk[i][1] == percent(on));
    CHECK(risk[i][2] == percent_interval(on));
    CHECK(risk[i][3] == percent(by));
    CHECK(risk[i][4] == percent_interval(by));
    const Json& then = day["flat_by_day"];
    CHECK(risk[i][5] == percent_interval(Interval{then["climate_low"], then["climate_high"]}));
    if (day["morning_low_soc"].is_null()) {
      CHECK(risk[i][6] == "–");
    } else {
      CHECK(risk[i][6] == whole_percent(day["morning_low_soc"]["p50"]));
      CHECK(risk[i][7] == whole_percent(day["morning_low_soc"]["p05"]));
    }
  }

  const auto charge = table_of(page, "charge");
  REQUIRE(charge.size() == data["hours"].size());
  for (std::size_t i = 0; i < charge.size(); ++i) {
    const std::string hour = data["hours"][i]["time"].get<std::string>().substr(11, 2);
    if (hour == "00") CHECK(data["hours"][i]["sun_up"] == false);
    if (hour == "12") CHECK(data["hours"][i]["sun_up"] == true);
    int column = 1;
    for (const auto* key : {"p05", "p25", "p50", "p75", "p95"}) {
      CHECK(charge[i][static_cast<std::size_t>(column++)] ==
            whole_percent(data["hours"][i]["soc"][key]));
    }
  }

  const auto generator = table_of(page, "generator");
  const Json& histogram = data["generator"]["hours_histogram"];
  for (std::size_t i = 0; i < histogram.size(); ++i) {
    const Proportion share = share_of(histogram[i]["share"], stays);
    if (i >= generator.size()) {
      CHECK(share.count == 0);
      continue;
    }
    CHECK(generator[i][1] == percent(share));
    CHECK(generator[i][2] == percent_interval(share));
  }

  const auto budget = table_of(page, "budget");
  for (std::size_t i = 0; i < data["budget"].size(); ++i) {
    CHECK_THAT(budget[i][0], Contains(data["budget"][i]["name"].get<std::string>()));
    CHECK(budget[i][1] == energy(data["budget"][i]["wh_per_day"]));
  }

  const auto guesses = table_of(page, "guesses");
  REQUIRE(guesses.size() == data["guesses"]["parts"].size() + 1);
  for (std::size_t i = 0; i + 1 < guesses.size(); ++i) {
    CHECK(guesses[i][2] == whole_percent(data["guesses"]["parts"][i]["share_of_doubt"]));
  }
}

TEST_CASE("a page tells the decision first, then what to do, why, what is unknown, cautions") {
  const std::string page = markup_of(run_page({kDemo, "--stays", "1000"}));
  std::size_t at = 0;
  for (const auto* heading :
       {"Bring the generator.", "What to do", "Why", "Risk by day", "State of charge",
        "Generator hours", "Energy of an average day", "What it does not know", "Cautions"}) {
    INFO(heading);
    at = page.find(std::string(">") + heading, at);
    REQUIRE(at != std::string::npos);
  }
  CHECK_THAT(page, Contains("Carbon monoxide kills") && Contains("typical year"));
}

TEST_CASE("what to do stands alike in the text, the JSON and the page of every report") {
  const std::string desert = project_file("datasets/plans/winter-desert.toml");
  const std::string reno = project_file("datasets/records/us_nv_reno.csv");
  const std::vector<std::vector<std::string>> commands{
      {"run", kDemo, "--doubt"},
      {"size", kDemo},
      {"compare", kDemo, desert},
      {"levers", kDemo},
      {"audit", kDemo, "--checklist"},
      {"calendar", kDemo},
      {"where", kDemo, "--near", "41.8,-124.1", "--within", "200"},
      {"hindcast", kDemo, "--record", reno, "--record-at", "39.5,-119.78", "--set",
       "camp[1].place=reno-nv", "--set", "camp[2].place=reno-nv"}};
  for (std::vector<std::string> arguments : commands) {
    INFO(arguments.front());
    const TemporaryFolder folder;
    const std::string json = folder.path("result.json"), html = folder.path("result.html");
    arguments.insert(arguments.end(), {"--stays", "1000", "--json", json, "--html", html});
    const ProgramRun run = run_program(arguments);
    INFO(run.err);
    REQUIRE(run.exit_code == 0);
    const std::string listed = between(text_of(html), "id=\"steps-heading\"", "</section>");
    const Json steps = Json::parse(text_of(json))["steps"];
    REQUIRE(steps.size() > 0);
    std::size_t items = steps.size();
    for (const Json& step : steps) {
      items += step["items"].size();
      CHECK_THAT(one_line(run.out), Contains("- " + step["text"].get<std::string>()));
      for (const Json& item : step["items"]) {
        CHECK_THAT(one_line(run.out), Contains("- " + item.get<std::string>()));
      }
    }
    CHECK(count_of(listed, "<li>") == items);
  }
}

TEST_CASE("a plan without a generator has a page without its chart") {
  const std::string page =
      run_page({project_file("datasets/plans/winter-desert.toml"), "--stays", "500"});
  const bool along = !data_of(page)["generator"].is_null();
  CHECK((page.find("id=\"generator-chart\"") != std::string::npos) == along);
  CHECK(page.find("id=\"guesses-chart\"") == std::string::npos);
}

TEST_CASE("a page loads nothing") {
  const std::string page = run_page({kDemo, "--stays", "500"});
  const std::string markup = markup_of(page);
  // Whatever loads in HTML or CSS stands in one of these.
  for (const auto* loader : {" src=", " href=", " srcset=", "url(", "@import", "<link", "<iframe",
                             "<object", "<embed", "<base", "http://", "https://"}) {
    INFO(loader);
    CHECK(markup.find(loader) == std::string::npos);
  }
  CHECK_THAT(markup, Contains("default-src 'none'"));
  for (const auto* loader :
       {"fetch(", "XMLHttpRequest", "importScripts", "import(", "WebSocket", "sendBeacon"}) {
    INFO(loader);
    CHECK(page.find(loader) == std::string::npos);
  }
}

TEST_CASE("hostile titles and names stay text") {
  std::string plan = text_of(kDemo);
  plan =
      std::regex_replace(plan, std::regex("title *= *\"[^\"]*\""), "title = \"" + kHostile + "\"");
  plan += "\n[[load]]\nname = \"" + kHostile + "\"\nside = \"dc\"\nwatts = 1\n";
  const std::string tame = run_page({kDemo, "--stays", "500"});
  const std::string page = run_page({"-", "--stays", "500"}, plan);

  check_no_more_markup(page, tame);
  CHECK(data_of(page)["plan"]["title"].get<std::string>().starts_with("</script><script>"));
  CHECK_THAT(markup_of(page),
             Contains("<h1><bdi>&lt;/script&gt;&lt;script&gt;alert(1)") && Contains("{{data}}"));
}

TEST_CASE("pages stay below 400 KB, of half a year below 600") {
  constexpr std::size_t kMost = 400'000;
  CHECK(run_page({kDemo, "--stays", "500", "--doubt"}).size() < kMost);
  CHECK(run_page({kDemo, "--stays", "500", "--set", "title=\"" + std::string(10'000, 'x') + "\""})
            .size() < kMost);
  std::string longer = text_of(kDemo);
  longer = std::regex_replace(longer, std::regex("nights *= *4"), "nights = 180");
  const std::string page = run_page({"-", "--stays", "500"}, longer);
  CHECK(data_of(page)["days"].size() == 184);
  CHECK(data_of(page)["hours"].size() <= 250);
  // Half a year on both tracks, day by day.
  CHECK(page.size() < 600'000);
}

TEST_CASE("a page is written whole or not at all") {
  const TemporaryFolder folder;
  const std::string target = folder.write("page.html", "old");
  CHECK(run_program({"run", kDemo, "--stays", "500", "--html", target}).exit_code == 0);
  CHECK_THAT(text_of(target), Catch::Matchers::StartsWith("<!DOCTYPE html>") &&
                                  Catch::Matchers::EndsWith("</html>\n"));
  CHECK(folder.entries() == 1);

  folder.write("page.html", "old");
  const std::string bad = folder.write("bad.toml", "arrive = 1\n");
  CHECK(run_program({"run", bad, "--html", target}).exit_code == 2);
  CHECK(text_of(target) == "old");
  CHECK(folder.entries() == 2);
}

TEST_CASE("a page's target is checked before the work") {
  const TemporaryFolder folder;
  const ProgramRun missing =
      run_program({"run", kDemo, "--html", folder.path("no/such/page.html")});
  CHECK(missing.exit_code == 2);
  CHECK_THAT(missing.err, Contains("--html") && Contains("does not exist"));
  const ProgramRun both = run_program({"run", kDemo, "--html", "-", "--json", "-"});
  CHECK(both.exit_code == 2);
  CHECK(both.out.empty());
  CHECK_THAT(both.err, Contains("standard output"));
}

}  // namespace dullspell::run_page_test
