#include <catch2/catch.hpp>

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "engine/decisions/calendar_survey.hpp"
#include "engine/plan/plan_file.hpp"
#include "engine/study/prepare.hpp"
#include "engine/study/study.hpp"

using namespace dullspell;

namespace {

Plan two_camps(const std::vector<std::string>& settings = {}) {
  return read_plan(std::string(DULLSPELL_SOURCE_DIR) + "/datasets/plans/two-forest-camps.toml",
                   PlaceCatalogue::built_in(), settings);
}

}  // namespace

TEST_CASE("a year has 52 arrivals a week apart, the plan's own among them") {
  for (const int year : {2027, 2028}) {  // a common year and a leap year
    for (Date day = make_date(year, 1, 1); day < make_date(year + 1, 1, 1);
         day += std::chrono::days{1}) {
      const std::vector<Date> weeks = weekly_arrivals(day);
      INFO(iso_date(day));
      REQUIRE(weeks.size() == 52);
      CHECK(std::count(weeks.begin(), weeks.end(), day) == 1);
      CHECK(weeks.front() >= make_date(year, 1, 1));
      CHECK(weeks.back() < make_date(year + 1, 1, 1));
      for (std::size_t i = 1; i < weeks.size(); ++i) CHECK((weeks[i] - weeks[i - 1]).count() == 7);
    }
  }
}

TEST_CASE("every week is the study of a plan that arrives then") {
  const OutcomeOptions options{1'600, 3, 2};
  const Plan plan = two_camps();
  const auto weeks = survey_calendar(plan, options);
  REQUIRE(weeks.size() == 52);
  for (std::size_t i = 0; i < weeks.size(); i += 10) {
    const Plan edited = two_camps({fmt::format("arrive={}T15:00:00", iso_date(weeks[i].arrive))});
    StudyOptions alone;
    alone.stays = 1'600;
    alone.seed = 3;
    const StudyResult study = run_study(prepare(edited), alone);
    const RiskSummary& risk = weeks[i].risk;
    INFO(iso_date(weeks[i].arrive));
    CHECK(risk.flat.count == study.home.flat.count);
    CHECK(risk.flat_climate->low == study.home.flat_climate->low);
    CHECK(risk.flat_climate->high == study.home.flat_climate->high);
    REQUIRE(risk.generator.has_value());
    CHECK(risk.generator->flat.count == study.generator->risk.flat.count);
    CHECK(risk.generator->flat_climate->high == study.generator->risk.flat_climate->high);
    CHECK(risk.generator->hours_mean == study.generator->hours.mean);
    CHECK(risk.generator->hours_p90 == study.generator->hours.p90);
  }
}

TEST_CASE("a survey of the year is the same for any number of threads and instruction set") {
  const Plan plan = two_camps();
  const auto counts = [&](int threads, InstructionSet set) {
    std::vector<double> out;
    for (const auto& week : survey_calendar(plan, {500, 1, threads, set})) {
      out.push_back(static_cast<double>(week.risk.flat.count));
      out.push_back(week.risk.flat_climate->high);
      if (week.risk.generator) out.push_back(week.risk.generator->hours_mean);
    }
    return out;
  };
  const auto first = counts(1, best_instruction_set());
  CHECK(std::set<double>(first.begin(), first.end()).size() > 20);
  CHECK(counts(3, best_instruction_set()) == first);
  CHECK(counts(2, InstructionSet::baseline) == first);
}

namespace {

std::vector<RingRun> runs(const std::string& ring) {
  std::vector<bool> holds;
  for (const char c : ring) holds.push_back(c == 'x');
  return runs_of_ring(holds);
}

}  // namespace

TEST_CASE("stretches of a ring run over its end") {
  using Runs = std::vector<RingRun>;
  CHECK(runs("........").empty());
  CHECK(runs("").empty());
  CHECK(runs("xxxx") == Runs{{0, 3, 4}});
  CHECK(runs("..xxx...") == Runs{{2, 4, 3}});
  CHECK(runs("xx....xx") == Runs{{6, 1, 4}});
  CHECK(runs("x......x") == Runs{{7, 0, 2}});
  CHECK(runs("x.......") == Runs{{0, 0, 1}});
  CHECK(runs("xx.x..xx") == Runs{{3, 3, 1}, {6, 1, 4}});
  CHECK(runs(".xxxxxxx") == Runs{{1, 7, 7}});
  CHECK(runs("xxx.xxxx") == Runs{{4, 2, 7}});
}
