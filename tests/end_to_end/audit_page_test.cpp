#include <catch2/catch.hpp>

#include "tests/support/page_parts.hpp"

namespace dullspell::audit_page_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;

namespace {

const std::string kDemo = project_file("datasets/plans/two-forest-camps.toml");

// A night that used more than the list says, and the sun of a morning.
const std::string kReadings = R"(
[[reading]]
charge_from = 0.95
charge_to = 0.74
from = 2027-05-14T22:00:00
to = 2027-05-15T05:00:00
[[reading]]
draw_w = 27
at = 2027-05-14T23:00:00
on = []
counts = "battery"
[[reading]]
panels_w = 450
at = 2027-05-15T13:00:00
camp = "open"
sky = "clear"
)";

}  // namespace

TEST_CASE("an audit's page holds the data of --json, and its tables say them") {
  const std::string plan = text_of(kDemo) + kReadings;
  const TemporaryFolder folder;
  const std::string json = folder.path("result.json"), html = folder.path("page.html");
  const ProgramRun run = run_program(
      {"audit", "-", "--stays", "2000", "--checklist", "--json", json, "--html", html}, plan);
  INFO(run.err);
  REQUIRE(run.exit_code == 0);
  CHECK_THAT(run.out, Contains("To fill in at the display"));
  const std::string page = text_of(html);
  const Json data = data_of(page), result = Json::parse(text_of(json));
  check_same(data, result);
  CHECK(page.size() < 400'000);

  const auto flat = [&](const char* name) {
    return "<b>" + of_hundred(share_of(result[name]["p"], 2000)) + "</b> by the ";
  };
  CHECK_THAT(page, Contains(flat("flat_by_list") + "list") &&
                       Contains(flat("flat_corrected") + "display"));
  const auto readings = table_of(page, "readings");
  REQUIRE(readings.size() == 3);
  for (std::size_t i = 0; i < readings.size(); ++i) {
    CHECK(readings[i][4] == signed_number(result["readings"][i]["off_by"], 1));
  }
  const auto figures = table_of(page, "figures");
  REQUIRE(figures.size() == result["figures"].size());
  for (std::size_t i = 0; i < figures.size(); ++i) {
    const Json& figure = result["figures"][i];
    CHECK(figures[i][1] == figure["key"]);
    const Json& before = figure["range_by_list"];
    const Json& now = figure["range_corrected"];
    CHECK(before["low"] <= figure["stated"]);
    CHECK(figure["stated"] <= before["high"]);
    CHECK(now["high"].get<double>() - now["low"].get<double>() <=
          1.5 * (before["high"].get<double>() - before["low"].get<double>()));
  }
  CHECK(!table_of(page, "checklist").empty());
}

TEST_CASE("an audit's page tells what to check or read first, then why") {
  const std::string page =
      markup_of(page_of({"audit", "-", "--stays", "500"}, text_of(kDemo) + kReadings));
  std::size_t at = 0;
  for (const auto* heading :
       {"By the list", "What to do", "Why", "What the display shows, and what was expected",
        "The plan&#39;s figures, corrected", "What it does not know", "Cautions"}) {
    INFO(heading);
    at = page.find(std::string(">") + heading, at);
    REQUIRE(at != std::string::npos);
  }
  const std::string alone = page_of({"audit", kDemo, "--stays", "500"});
  CHECK_THAT(markup_of(alone), Contains("No readings yet: take those below.") &&
                                   Contains("<table id=\"checklist\">") && !Contains("<canvas"));
}

TEST_CASE("hostile names stay text on an audit's page") {
  const auto plan_with = [](const std::string& name) {
    return text_of(kDemo) + "[[load]]\nname = \"" + name + "\"\nwatts = 40\n" +
           "hours_per_day = 6\nbetween = [\"17:00\", \"23:00\"]\n" + kReadings;
  };
  const std::vector<std::string> arguments{"audit", "-", "--stays", "300", "--checklist"};
  const std::string page = page_of(arguments, plan_with(kHostile));
  check_no_more_markup(page, page_of(arguments, plan_with("heater")));
  CHECK_THAT(markup_of(page), Contains("&lt;/script&gt;&lt;script&gt;alert(1)"));
}

TEST_CASE("an audit's page is written whole or not at all") {
  const TemporaryFolder folder;
  const std::string target = folder.write("page.html", "old");
  CHECK(run_program({"audit", "-", "--html", target}, "arrive = 1\n").exit_code == 2);
  CHECK(text_of(target) == "old");
  CHECK(run_program({"audit", kDemo, "--stays", "300", "--html", target}).exit_code == 0);
  CHECK_THAT(text_of(target), Catch::Matchers::EndsWith("</html>\n"));
  CHECK(folder.entries() == 1);
  CHECK(run_program({"audit", kDemo, "--html", "-", "--json", "-"}).exit_code == 2);
}

}  // namespace dullspell::audit_page_test
