#include "reports/audit_document.hpp"

#include <sstream>

#include <catch2/catch.hpp>

#include "reports/audit_tables.hpp"
#include "reports/page_renderer.hpp"
#include "reports/reading_text.hpp"
#include "reports/text_renderer.hpp"
#include "tests/support/any_width.hpp"
#include "tests/support/engine_plan.hpp"

using namespace dullspell;
using namespace dullspell::test;
using Catch::Matchers::Contains;

namespace {

const std::string kVan = R"(
title = "Van under the firs, invented"
arrive = 2027-09-24T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 3
canopy = 0.4
[battery]
capacity_ah = 80
nominal_v = 12.8
[inverter]
rated_w = 600
standby_w = 8
[[panels]]
rated_w = 200
[fridge]
running_w = 45
[[load]]
name = "standby"
watts = 6
[[load]]
name = "lights"
watts = 12
hours_per_day = 4
between = ["18:00", "23:00"]
)";

const std::string kNight = R"(
[[reading]]
charge_from = 0.95
charge_to = 0.75
from = 2027-09-17T21:30:00
to = 2027-09-18T06:30:00
)";

// A plan with an audit of its readings; how many stays run flat is made up.
struct Audited {
  Plan corrected;
  PlanCorrection correction;
  Audit audit;
  bool checklist = false;

  explicit Audited(const std::string& toml)
      : corrected(plan_of(toml)),
        correction(corrected.correction ? *corrected.correction
                                        : PlanCorrection{corrected, posterior_of(corrected)}),
        audit(audit_of(correction.listed, correction.posterior)) {}

  AuditReport report() const {
    return {correction.listed,
            corrected,
            correction.posterior,
            audit,
            Proportion(600, 1'000),
            Proportion(50, 1'000),
            1'000,
            1,
            checklist};
  }
  Document document() const { return audit_document(report(), "dullspell test"); }
};

std::string page_of(const Document& document) {
  std::ostringstream out;
  write_page(out, document);
  return out.str();
}

std::string text_of(const Document& document) {
  std::ostringstream out;
  write_text(out, document);
  return out.str();
}

}  // namespace

TEST_CASE("without readings an audit is a list to fill in, and what the list may be off by") {
  const Audited van(kVan);
  REQUIRE(van.audit.next.size() > 1);
  const Document document = van.document();
  CHECK_THAT(document.verdict, Contains("No readings yet: take those below."));
  REQUIRE(document.figures.size() == 3);
  CHECK(document.figures[0].cases.size() == 1);
  CHECK(document.figures[0].cases[0].value == "60");

  const std::string page = page_of(document);
  CHECK_THAT(page, Contains("<table id=\"checklist\">") && Contains("<table id=\"figures\">") &&
                       !Contains("<canvas id=") && !Contains("____"));
  const std::string text = text_of(document);
  CHECK_THAT(text, Contains("To fill in at the display") && Contains("________  ______") &&
                       Contains("Guesses of the plan"));
}

TEST_CASE("a list to fill in has a row for each look, numbered as the reading will be") {
  Audited van(kVan + kNight);
  const Table blank = checklist_table(van.report(), Shown::in_text);
  const Table cells = checklist_table(van.report(), Shown::on_page);
  REQUIRE(blank.rows.size() >= van.audit.next.size());
  REQUIRE(cells.rows.size() == blank.rows.size());
  CHECK(blank.rows[0].cells[0].starts_with("2: "));
  for (std::size_t i = 0; i < blank.rows.size(); ++i) {
    const std::string unit = cells.rows[i].cells[3];
    CHECK((unit == "%" || unit == "W" || unit == "Wh"));
    CHECK(blank.rows[i].cells[3] == "______ " + unit);
    CHECK(cells.rows[i].cells[1].empty());
  }
  // The next reading alone needs no list, unless it is asked for.
  CHECK(text_of(van.document()).find("To fill in") == std::string::npos);
  CHECK(page_of(van.document()).find("<table id=\"checklist\">") == std::string::npos);
  van.checklist = true;
  CHECK_THAT(text_of(van.document()), Contains("To fill in") && Contains("- 2: The "));
  CHECK_THAT(page_of(van.document()), Contains("<table id=\"checklist\">"));
}

TEST_CASE("with readings an audit has figures of both, and charts of readings and guesses") {
  const Audited van(kVan + kNight);
  const Document document = van.document();
  CHECK(document.tone == Tone::holds);
  REQUIRE(document.figures[0].cases.size() == 2);
  CHECK(document.figures[0].cases[1].value == "5");
  CHECK(document.figures[0].cases[1].name == "by the display");
  const std::string page = page_of(document);
  CHECK_THAT(page, Contains("<canvas id=\"readings-chart\"") &&
                       Contains("<canvas id=\"figures-chart\"") &&
                       Contains("<b>60</b> by the list") && Contains("<b>5</b> by the display"));
}

TEST_CASE("an audit whose readings do not fit judges no risk") {
  std::string swapped = kNight;
  swapped.replace(swapped.find("0.95"), 4, "0.55");
  const Audited van(kVan + swapped);
  REQUIRE_FALSE(van.audit.misfits.empty());
  CHECK(van.document().tone == Tone::plain);
}

TEST_CASE("how to take a reading says what is on, and counts only with an inverter") {
  Reading standby;
  standby.kind = ReadingKind::draw_w;
  standby.on.emplace();
  const Plan plan = plan_of(kVan);
  CHECK_THAT(how_to_take(standby, plan),
             Contains("(fridge off, inverter on)") && Contains("`on = []`, and `counts"));
  Plan simple = plan;
  simple.inverter.reset();
  simple.fridge.reset();
  standby.on = {"lights"};
  CHECK(how_to_take(standby, simple) ==
        "The watts drawn with nothing on but lights and what runs day and night: `draw_w`, `at`, "
        "`on = [\"lights\"]`.");
}

TEST_CASE("an audit keeps to any width of window") {
  Audited van(kVan + kNight);
  van.checklist = true;
  check_any_width(
      [&](std::ostream& out, TextStyle style) { write_text(out, van.document(), style); },
      {"To fill in"});
}
