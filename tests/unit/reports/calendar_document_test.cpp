#include <catch2/catch.hpp>

#include <ostream>

#include "reports/calendar_document.hpp"
#include "reports/calendar_tables.hpp"
#include "reports/calendar_verdict.hpp"
#include "reports/text_renderer.hpp"
#include "tests/support/any_width.hpp"
#include "tests/support/engine_plan.hpp"

using namespace dullspell;
using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

const std::string kPlan =
    "arrive = 2027-05-21T15:00:00\n[[camp]]\nplace = \"reno-nv\"\nnights = 3\n[battery]\n"
    "capacity_wh = 1000\n[[load]]\nname = \"lamp\"\nwatts = 5\n";

// Stays of 10,000 that run flat by week; those that are not named run flat always.
std::vector<CalendarWeek> weeks_with(const std::vector<std::pair<int, int>>& holding_stretches,
                                     std::uint64_t count = 100) {
  std::vector<CalendarWeek> weeks;
  for (const Date arrive : weekly_arrivals(make_date(2027, 5, 21))) {
    weeks.push_back({arrive, {Proportion(9'000, 10'000), Interval{0.8, 0.95}, {}}});
  }
  for (const auto& [first, last] : holding_stretches) {
    for (int i = first; i <= last; ++i) {
      weeks[static_cast<std::size_t>(i)].risk = {
          Proportion(count, 10'000), Interval{0.0, 0.05}, {}};
    }
  }
  return weeks;
}

std::string said(const std::vector<CalendarWeek>& weeks) {
  const Plan plan = plan_of(kPlan);
  const OutcomeOptions options;
  return calendar_verdict({plan, weeks, options});
}

}  // namespace

TEST_CASE("the season is said in stretches of weeks") {
  CHECK_THAT(said(weeks_with({{10, 30}})),
             StartsWith("This stay works when you arrive between 12 Mar and 30 Jul (21 weeks); not "
                        "in the other 31 weeks. You accept 10 in 100. In the plan's own week it "
                        "runs flat in 1.0 of 100 stays (0.8–1.2 %). The worst five weeks are those "
                        "around 19 Nov: flat in 90.0 % of stays (80–95 %); the best those around "
                        "21 May: flat in 1.0 % of stays (0–5 %)."));
  CHECK_THAT(said(weeks_with({{0, 3}, {48, 51}})),
             StartsWith("This stay works when you arrive between 3 Dec and 22 Jan (8 weeks); not"));
  CHECK_THAT(said(weeks_with({{5, 5}, {20, 22}})),
             StartsWith("This stay works when you arrive around 5 Feb, or between 21 May and 4 Jun "
                        "(3 weeks); not in the other 48 weeks."));
  CHECK_THAT(said(weeks_with({})), StartsWith("This stay works in no week of the year. You"));
  CHECK_THAT(said(weeks_with({{0, 51}})),
             StartsWith("This stay works in every week of the year. You"));
  CHECK_THAT(said(weeks_with({{1, 1}, {3, 6}, {9, 11}, {14, 14}, {20, 28}})),
             Contains("(4 weeks), or between 5 Mar and 19 Mar (3 weeks), or between 21 May and 16 "
                      "Jul (9 weeks), or in 2 weeks more; not in the other 34 weeks."));
}

TEST_CASE("weeks next to the accepted risk are neither") {
  auto weeks = weeks_with({{10, 30}});
  weeks[31].risk.flat = Proportion(1'000, 10'000);
  CHECK_THAT(said(weeks), Contains("not in 30 weeks, and in 1 week it is too close to call."));
  weeks = weeks_with({{1, 51}});
  weeks[0].risk.flat = Proportion(1'000, 10'000);
  CHECK_THAT(said(weeks), Contains("(51 weeks); in the other 1 week it is too close to call."));
}

TEST_CASE("what the record leaves open shortens the season") {
  auto weeks = weeks_with({{10, 30}});
  CHECK_THAT(said(weeks), !Contains("sure to work"));
  weeks[10].risk.flat_climate->high = 0.2;
  CHECK_THAT(said(weeks), Contains("Allowing for gaps in the weather record, it is sure to work "
                                   "when you arrive between 19 Mar and 30 Jul (20 weeks)."));
  for (auto& week : weeks) week.risk.flat_climate->high = 0.2;
  CHECK_THAT(said(weeks), Contains("gaps in the weather record, no week is sure to work."));
}

TEST_CASE("the calendar fits any window and marks the plan's own week") {
  const Plan plan = plan_of(kPlan);
  auto weeks = weeks_with({{10, 30}});
  for (auto& week : weeks) {
    week.risk.generator = GeneratorSummary{Proportion(1, 10'000), Interval{0.0, 0.001}, 123.4, 150};
  }
  weeks[0].risk.flat = Proportion(20'000, 20'000);
  const OutcomeOptions options;
  check_any_width(
      [&](std::ostream& out, TextStyle style) {
        write_text(out, calendar_document({plan, weeks, options}, "program"), style);
      },
      {"\n  21 May *", "100 %  99.98–100.00 %", "1.0 %  0.8–1.2 %", "90 %  89–91 %"});
}

TEST_CASE("the calendar's table stands to what is accepted as its bars and words do") {
  const Plan plan = plan_of(kPlan);
  auto weeks = weeks_with({{10, 30}});
  weeks[40].risk.flat = Proportion(1'000, 10'000);
  const OutcomeOptions options;
  const CalendarReport report{plan, weeks, options};
  const Table table = weeks_table(report);
  CHECK_THAT(table.title, Contains("(Fridays)"));
  REQUIRE(table.rows.size() == 52);
  CHECK(table.rows[own_week(report)].cells.front() == "21 May *");
  CHECK(table.rows[10].cells[1] == "yes");
  CHECK(table.rows[10].tone == Tone::holds);
  CHECK(table.rows[40].cells[1] == "close");
  CHECK(table.rows[40].tone == Tone::close);
  CHECK(table.rows[0].cells[1] == "no");
  CHECK(table.rows[0].tone == Tone::fails);
  CHECK(table.rows[0].bar->share == Approx(0.9));
  CHECK(table.rows[0].bar->high == Approx(0.95));
}

TEST_CASE("a calendar's verdict is coloured where it is the same for all weeks") {
  const Plan plan = plan_of(kPlan);
  const OutcomeOptions options;
  const auto tone = [&](const std::vector<CalendarWeek>& weeks) {
    return calendar_tone({plan, weeks, options});
  };
  CHECK(tone(weeks_with({{0, 51}})) == Tone::holds);
  CHECK(tone(weeks_with({{10, 30}})) == Tone::plain);
  CHECK(tone(weeks_with({})) == Tone::fails);
  auto weeks = weeks_with({});
  weeks[3].risk.flat = Proportion(1'000, 10'000);
  CHECK(tone(weeks) == Tone::close);
}
