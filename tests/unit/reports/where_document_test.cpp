#include "reports/where_document.hpp"

#include <algorithm>
#include <ostream>

#include <catch2/catch.hpp>

#include "reports/note_text.hpp"
#include "reports/text_renderer.hpp"
#include "reports/where_tables.hpp"
#include "reports/where_verdict.hpp"
#include "tests/support/any_width.hpp"
#include "tests/support/engine_plan.hpp"

namespace dullspell::where_document_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using Catch::Matchers::VectorContains;

namespace {

const std::string kPlan =
    "arrive = 2027-05-21T15:00:00\n[[camp]]\nplace = \"reno-nv\"\nnights = 3\n[battery]\n"
    "capacity_wh = 1000\n[[load]]\nname = \"lamp\"\nwatts = 5\n";

// Three places of the built-in ones, of which one holds, one is too close to call, one does not.
struct Surveyed {
  Plan plan = plan_of(kPlan);
  RiskSummary own{Proportion(3'000, 10'000), {}, {}};
  PlaceFilter filter;
  PlaceSurvey survey;
  OutcomeOptions options;
  std::size_t top = 25;

  explicit Surveyed(bool generator = false) {
    const auto& catalogue = PlaceCatalogue::built_in();
    for (const auto& [id, count] : {std::pair{"reno-nv", 100}, std::pair{"arcata-ca", 1'000},
                                    std::pair{"marysville-beale-afb-ca", 9'000}}) {
      RiskSummary risk{
          Proportion(static_cast<std::uint64_t>(count), 10'000), Interval{0.0, 0.99}, {}};
      if (generator) risk.generator = GeneratorSummary{Proportion(1, 10'000), {}, 1.5, 3.0};
      survey.ranked.push_back({catalogue.find(id), risk, survey.ranked.size(), 1.0});
    }
  }

  WhereReport report(Units units = Units::metric) const {
    return {plan, own, filter, survey, top, options, units};
  }
};

}  // namespace

TEST_CASE("a survey of places counts how many hold and names the first and the last") {
  const Surveyed s;
  CHECK_THAT(where_verdict(s.report()),
             StartsWith("This stay works at 1 of 3 places; at 1 more it is too close to call.") &&
                 Contains("At the plan's own camp it runs flat in 30 of 100 stays") &&
                 Contains("The safest place is Reno, NV: flat in 1.0 of 100 stays."));
  CHECK(where_tone(s.report()) == Tone::plain);
  Surveyed one = s;
  one.survey.ranked.resize(1);
  CHECK(where_tone(one.report()) == Tone::holds);
  one.survey.ranked = {s.survey.ranked[1]};
  CHECK(where_tone(one.report()) == Tone::close);
  one.survey.ranked = {s.survey.ranked[2]};
  CHECK(where_tone(one.report()) == Tone::fails);
}

TEST_CASE("a table of places has distances in the reader's units where there is a centre") {
  Surveyed s;
  const auto heads = [](const Table& table) {
    std::vector<std::string> out;
    for (const auto& column : table.columns) out.push_back(column.head);
    return out;
  };
  CHECK_THAT(heads(best_places_table(s.report())), !VectorContains(std::string("away")));
  s.filter.circle = Circle{{41.8, -124.1}, 1000.0};
  const Table metric = best_places_table(s.report()), us = best_places_table(s.report(Units::us));
  REQUIRE_THAT(heads(metric), VectorContains(std::string("away")));
  CHECK_THAT(metric.rows[1].cells, VectorContains(std::string("91 km")));
  CHECK_THAT(us.rows[1].cells, VectorContains(std::string("56 mi")));
  for (const TableRow& row : metric.rows) CHECK(row.cells.size() == metric.columns.size());
}

TEST_CASE("a table of places holds as many as are to be shown") {
  Surveyed s;
  CHECK(best_places_table(s.report()).rows.size() == 3);
  CHECK_THAT(best_places_table(s.report()).title, StartsWith("All places"));
  s.top = 2;
  CHECK(best_places_table(s.report()).rows.size() == 2);
  CHECK_THAT(best_places_table(s.report()).title, StartsWith("The best 2 places"));
  CHECK(best_places_table(s.report(), 1).rows.size() == 1);
}

TEST_CASE("a survey of places keeps what is noted of the kit") {
  using namespace plan_note;
  Surveyed s;
  s.plan.notes = {LoadAboveInverter{"lamp", 1500.0, 1000.0}, DriveBeforeArrival{}};
  const std::vector<std::string> notes = where_notes(s.report());
  CHECK_THAT(notes, VectorContains(note_text(s.plan.notes[0], s.plan)) &&
                        VectorContains(note_text(s.plan.notes[1], s.plan)));
}

TEST_CASE("a survey of places fits any window") {
  Surveyed s(true);
  s.own.generator = GeneratorSummary{Proportion(1, 10'000), {}, 1.5, 3.0};
  s.plan = plan_of(kPlan +
                   "[generator]\nrated_w = 500\ncharger_w = 300\nallowed = [[\"08:00\", "
                   "\"20:00\"]]\n");
  s.filter.circle = Circle{{41.8, -124.1}, 1000.0};
  check_any_width(
      [&](std::ostream& out, TextStyle style) {
        write_text(out, where_document(s.report(), "program"), style);
      },
      {"Marysville", "1.0 %  0.8–1.2 %", "90 %  89–91 %"});
}

}  // namespace dullspell::where_document_test
