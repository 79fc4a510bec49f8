#include <sstream>

#include <catch2/catch.hpp>

#include "engine/study/prepare.hpp"
#include "reports/levers_document.hpp"
#include "reports/levers_tables.hpp"
#include "reports/levers_verdict.hpp"
#include "reports/text_renderer.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/text_width.hpp"

using namespace dullspell;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using dullspell::test::one_line;
using dullspell::test::widest_line;

namespace {

constexpr std::uint64_t kStays = 1'000, kFlat = 300;

LeverEffect effect(const std::string& name, std::uint64_t only_first, std::uint64_t only_second) {
  LeverEffect out;
  out.lever.kind = LeverKind::load_left_out;
  out.lever.change = name + " left out";
  out.lever.doing = "Leaving out the " + name;
  out.flat = Proportion(kFlat + only_second - only_first, kStays);
  out.difference.only_first = only_first;
  out.difference.only_second = only_second;
  out.difference.difference =
      (static_cast<double>(only_second) - static_cast<double>(only_first)) / kStays;
  out.difference.interval = tango_interval(only_first, only_second, kStays);
  out.difference_climate = {out.difference.difference - 0.02, out.difference.difference + 0.02};
  return out;
}

struct Found {
  Plan plan = plan_of(R"(arrive = 2027-05-21T15:00:00
accept_risk = 0.25
[[camp]]
place = "moab-ut"
nights = 2
[battery]
capacity_wh = 500
[[load]]
name = "lamp"
watts = 20
)");
  PreparedPlan prepared = prepare(plan);
  Budget budget = expected_budget(prepared);
  LeverStudy study;

  explicit Found(std::vector<LeverEffect> effects) {
    study.base.home.flat = Proportion(kFlat, kStays);
    study.effects = std::move(effects);
  }
  LeversReport report(std::size_t top) const {
    return {plan, prepared, study, budget, Units::metric, top};
  }
  LeversReport report() const { return {plan, prepared, study, budget}; }
};

}  // namespace

TEST_CASE("the best change is the best of those that clearly help") {
  // The first takes off more, but so many stays cannot show it.
  const Found found({effect("kettle", 110, 90), effect("lamp", 12, 0), effect("radio", 0, 0),
                     effect("heater", 0, 40)});
  REQUIRE_FALSE(found.study.effects[0].difference.is_clear());
  const std::string verdict = levers_verdict(found.report());
  CHECK_THAT(
      verdict,
      StartsWith("Leaving out the lamp cuts the risk by 1 point, from 30 % to 29 %. Allowing for "
                 "gaps in the weather record, anywhere from −1 to +3 points."));
  CHECK_THAT(verdict,
             Contains("No single change brings it down to the 25 in 100 that you accept."));

  std::ostringstream text;
  write_text(text, levers_document(found.report(10), "program"));
  // What to do, which comes before, names the best changes too.
  const std::size_t table = text.str().find("One change at a time");
  const auto at = [&](const std::string& what) { return text.str().find(what, table); };
  CHECK(at("helps:") < at("lamp left out"));
  CHECK(at("lamp left out") < at("makes no clear difference:"));
  CHECK(at("makes no clear difference:") < at("kettle left out"));
  CHECK(at("radio left out") < at("makes it worse:"));
  CHECK(at("makes it worse:") < at("heater left out"));
}

TEST_CASE("the table of levers fits every window, with each change's share in it") {
  const Found found({effect("lamp in the awning and the one beside the door", 200, 0),
                     effect("radio", 12, 0), effect("kettle", 5, 5)});
  for (std::size_t width = TextStyle::kLeastWidth; width <= 110; ++width) {
    INFO(width);
    std::ostringstream out;
    write_text(out, levers_document(found.report(2), "program"), {width, false});
    CHECK(widest_line(out.str()) <= width);
    const std::string text = one_line(out.str());
    CHECK_THAT(text, Contains("10 %") && Contains("−23 to −18") && Contains("radio left out") &&
                         Contains("and 1 more (--top 3)"));
  }
}

TEST_CASE("the page's risks after each change say where they stand") {
  const Found found({effect("kettle", 200, 0), effect("lamp", 12, 0), effect("radio", 0, 40)});
  const Table table = risks_after_table(found.report());
  REQUIRE(table.rows.size() == 4);
  CHECK(table.columns.back().head == "the 25 in 100 that you accept");
  CHECK(table.rows[1].cells ==
        std::vector<std::string>{"kettle left out", "10 %", "8–12 %", "within it"});
  CHECK(table.rows[2].cells.back() == "above it");
  CHECK(table.rows[3].cells.front() == "radio left out");
}

TEST_CASE("changes that reach what is accepted are named") {
  const Found found({effect("kettle", 200, 0), effect("lamp", 12, 0)});
  CHECK_THAT(
      levers_verdict(found.report()),
      Contains(
          "One change alone brings it down to the 25 in 100 that you accept: kettle left out."));
}

TEST_CASE("where nothing clearly helps, that is said") {
  const Found found({effect("kettle", 11, 9)});
  CHECK_THAT(levers_verdict(found.report()), Contains("no single change that clearly helps"));
}
