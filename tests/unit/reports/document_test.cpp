#include "reports/document.hpp"

#include <sstream>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "reports/json_renderer.hpp"
#include "reports/page_renderer.hpp"
#include "reports/text_renderer.hpp"

using namespace dullspell;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

const Table kDays{
    "days", "Day by day", {{"date", Column::Align::left}, {"flat"}}, {{{"Fri", "3 %"}}}};
const Table kCurve{
    "curve", "All hours", {{"hour", Column::Align::left}, {"charge"}}, {{{"8", "40 %"}}}};

Document small_document() {
  Document out;
  out.program = "dullspell test";
  out.title = "Pond <1>";
  out.summary = {"two nights", "one camp"};
  out.verdict = "It holds. You accept 10 in 100.";
  out.tone = Tone::holds;
  out.said_too = {"In past years too."};
  out.steps = {
      {"Save first where most goes: " + Prose::name("fridge <old>") + " (265 Wh a day)."},
      {"Then choose, by `dullspell levers`:", {Prose::name("a fan") + ": 2 %", "less light"}}};
  out.parts = {{.heading = "Charge",
                .how_to_read = "Line: the middle stay.",
                .blocks = {{kCurve, Shown::on_page}, {kDays}, {"Only in a text.", Shown::in_text}}},
               {.text_heading = "Fuel", .blocks = {{"By the rule."}, {kDays}}}};
  out.notes = {"Neither holds errors."};
  out.cautions = {"Mind the cold."};
  out.footer = "200 stays.";
  out.charts = Charts::run;
  out.head = {{"format", "test/1"}};
  out.results = {{"hours", {0.123456789, 2.0}}, {"long", {1, 2, 3}}};
  out.chart_data = {{"hours", {0.5}}, {"step", 3}};
  out.not_charted = {"long"};
  return out;
}

std::string rendered(void (*write)(std::ostream&, const Document&)) {
  std::ostringstream out;
  write(out, small_document());
  return out.str();
}

std::string text() {
  std::ostringstream out;
  write_text(out, small_document());
  return out.str();
}

}  // namespace

TEST_CASE("a text says what to do below the verdict, what there is to choose from below that") {
  CHECK(text() == R"(Pond <1>
two nights
  one camp

It holds. You accept 10 in 100.
In past years too.

What to do
  - Save first where most goes: fridge <old> (265 Wh a day).
  - Then choose, by `dullspell levers`:
    - a fan: 2 %
    - less light

Day by day
  date  flat
  Fri    3 %
  Only in a text.

Fuel
  By the rule.
  date  flat
  Fri    3 %

What the figures rest on
  - Neither holds errors.

Cautions
  - Mind the cold.

200 stays.
)");
}

TEST_CASE("a page says what to do with names escaped and set apart, commands as code") {
  const std::string page = rendered(write_page);
  CHECK_THAT(page,
             Contains("<li>Save first where most goes: <bdi>fridge &lt;old&gt;</bdi> (265 Wh a "
                      "day).</li>"));
  CHECK_THAT(page, Contains("<li>Then choose, by <code>dullspell levers</code>:\n<ul>\n<li><bdi>a "
                            "fan</bdi>: 2\u00A0%</li>\n<li>less light</li>\n</ul></li>"));
  CHECK_THAT(page, Contains("<h2 id=\"headline\">It holds.</h2>"));
}

TEST_CASE("a page has a chart for each part with a heading, named by its first table") {
  const std::string page = rendered(write_page);
  CHECK_THAT(page, Contains("<canvas id=\"curve-chart\"") && Contains("<table id=\"curve\">") &&
                       Contains("<table id=\"days\">") && !Contains("<canvas id=\"days-chart\"") &&
                       !Contains("Only in a text.") && !Contains("By the rule."));
}

TEST_CASE("a page's charts get their own figures to six digits, programs get all of them") {
  const std::string page = rendered(write_page);
  const std::string begin = "id=\"data\">";
  const auto at = page.find(begin) + begin.size();
  const auto data = nlohmann::json::parse(page.substr(at, page.find("</script>", at) - at));
  CHECK(data["hours"] == nlohmann::json({0.5}));
  CHECK(data["step"] == 3);
  CHECK_FALSE(data.contains("long"));
  const auto json = nlohmann::json::parse(
      rendered([](std::ostream& out, const Document& document) { write_json(out, document); }));
  CHECK(json["hours"][0] == 0.123456789);
  CHECK(json["long"].size() == 3);
  CHECK_FALSE(json.contains("step"));
}

TEST_CASE("JSON holds head, verdict, results, what to do, notes, cautions, in this order") {
  const auto json = nlohmann::ordered_json::parse(
      rendered([](std::ostream& out, const Document& document) { write_json(out, document); }));
  std::vector<std::string> names;
  for (const auto& [name, value] : json.items()) names.push_back(name);
  CHECK(names == std::vector<std::string>{"format", "verdict", "hours", "long", "steps", "notes",
                                          "cautions"});
  CHECK(json["steps"][0]["text"] == "Save first where most goes: fridge <old> (265 Wh a day).");
  CHECK(json["steps"][0]["items"].empty());
  CHECK(json["steps"][1]["items"][1] == "less light");
}

TEST_CASE("several plans in a text come each with its letter, file and summary") {
  Document document = small_document();
  document.plans = {{"A", "a.toml", "Pond", {"two nights"}}, {"B", "b.toml", "", {"one night"}}};
  std::ostringstream out;
  write_text(out, document);
  CHECK_THAT(out.str(), StartsWith("A: a.toml\nPond\ntwo nights\n\nB: b.toml\none night\n"));
}
