#include <algorithm>
#include <optional>
#include <sstream>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "reports/shade_document.hpp"
#include "reports/shade_tables.hpp"
#include "reports/shade_verdict.hpp"
#include "reports/text_renderer.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/text_width.hpp"

using namespace dullspell;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using dullspell::test::one_line;
using dullspell::test::widest_line;

namespace {

// A plan with a glance at its first camp, if one is given.
struct Shaded {
  Plan plan;
  std::vector<ShadeTable> camps;
  std::optional<AnsweredGlance> seen;

  explicit Shaded(const std::vector<std::string>& settings = {}, std::optional<double> watts = {})
      : plan(plan_of(R"(arrive = 2027-10-08T16:00:00
[[camp]]
place = "crescent-city-ca"
nights = 4
canopy = 0.4
[[camp]]
place = "moab-ut"
nights = 2
[battery]
capacity_wh = 1280
[[panels]]
rated_w = 100
[[load]]
name = "fridge"
watts = 22
)",
                     settings)) {
    for (std::size_t camp = 0; camp < plan.camps.size(); ++camp) {
      camps.push_back(shade_table(plan, camp, middle_date(plan, camp)));
    }
    if (!watts) return;
    const Reading reading =
        panel_glance(0, {camps.front().date, 13 * 60}, SkyWord::overcast, *watts);
    seen = AnsweredGlance{reading, seen_canopy(plan, reading)};
  }

  ShadeReport report() const { return {plan, camps, seen}; }
  std::string text(TextStyle style = {}) const {
    std::ostringstream out;
    write_text(out, shade_document(report(), "program"), style);
    return out.str();
  }
};

}  // namespace

TEST_CASE("the verdict says what a clear day should show at each camp, and by whose shade") {
  const Shaded shaded;
  CHECK_THAT(shade_verdict(shaded.report()),
             StartsWith("At camp 1 (Crescent City, CA) if Sun 10 Oct is clear the display should "
                        "show ") &&
                 Contains(" under a canopy of 0.4, ") && Contains("shade takes"));
  const std::vector<std::string> others = shade_of_camps(shaded.report());
  REQUIRE(others.size() == 1);
  CHECK_THAT(others.front(), StartsWith("At camp 2 (Moab, UT) if Wed 13 Oct is clear ") &&
                                 Contains("the plan states no shade there"));
}

TEST_CASE("shade tables fit every window, with the clear sky in them") {
  const Shaded shaded;
  for (std::size_t width = TextStyle::kLeastWidth; width <= 110; ++width) {
    INFO(width);
    const std::string text = shaded.text({width, false});
    CHECK(widest_line(text) <= width);
    CHECK_THAT(one_line(text), Contains("13:00–14:00 ") && Contains("0.4 (plan) "));
  }
  CHECK(widest_line(shaded.text({80, false})) <= 80);
  CHECK_THAT(shaded.text({80, false}), Contains("clear") && Contains("overcast     rain"));
}

TEST_CASE("tables round what they are made from") {
  const Shaded shaded;
  const ShadeTable& shade = shaded.camps.front();
  const Table hours = hours_table(shaded.report(), shade);
  REQUIRE(hours.rows.size() == shade.hours.size());
  const auto noon = static_cast<std::size_t>(shade.best_hour);
  const auto row = std::find_if(hours.rows.begin(), hours.rows.end(), [&](const TableRow& r) {
    return r.cells.front() == hour_text(shade.best_hour);
  });
  REQUIRE(row != hours.rows.end());
  CHECK(row->cells[1] == fmt::format("{:.0f} of {:.0f}", shade.days[0].here.watts[noon],
                                     shade.days[0].open.watts[noon]));
  const Table days = days_energy_table(shaded.report(), shade);
  CHECK(days.rows[3].cells[3] ==
        energy(shade.days[3].taken_wh()) + ", " + whole_percent(shade.days[3].taken_share()));
  // What is in the open has one figure, and no shade to tell of.
  CHECK(days_energy_table(shaded.report(), shaded.camps.back()).columns.size() == 2);
  CHECK_THAT(hours_table(shaded.report(), shaded.camps.back()).rows[5].cells[1], !Contains("of"));
}

TEST_CASE("an answer names date, hour, sky, what the plan makes of it, and a range") {
  const Shaded shaded({}, 5.0);
  CHECK_THAT(shade_verdict(shaded.report()),
             StartsWith("5 W at 13:00 on Sun 10 Oct, overcast sky, is what a canopy of ") &&
                 Contains(" under a canopy of 0.4, ") && Contains("Two times in three"));
  CHECK(shade_of_camps(shaded.report()).size() == 2);
  const std::string text = one_line(shaded.text());
  CHECK_THAT(text, Contains("`panels_w = 5`") && Contains("`sky = \"overcast\"`") &&
                       Contains("--date 2027-10-10"));
}

TEST_CASE("where readings correct a plan one more is to count with them") {
  const Shaded read({"reading=[{ panels_w = 50, at = 2027-10-09T13:00:00, camp = \"open\", "
                     "sky = \"clear\" }]"},
                    5.0);
  CHECK_THAT(one_line(read.text()),
             Contains("Let it count beside the plan's other readings") && !Contains("`canopy = "));
}
