#include "engine/decisions/calendar_survey.hpp"

#include <algorithm>

#include "engine/plan/plan_edit.hpp"
#include "engine/study/parallel.hpp"
#include "engine/study/prepare.hpp"

namespace dullspell {

std::vector<Date> weekly_arrivals(Date arrive) {
  const int days_before = day_of_year(arrive) - 1;
  // The last one or two days of a year are the fifty-third of their weekday: the first is left out.
  const int first = days_before % 7 + (days_before >= 7 * kWeeksOfYear ? 7 : 0);
  std::vector<Date> out;
  for (int week = 0; week < kWeeksOfYear; ++week) {
    out.push_back(arrive + std::chrono::days{first + 7 * week - days_before});
  }
  return out;
}

std::vector<CalendarWeek> survey_calendar(const Plan& plan, const OutcomeOptions& options,
                                          const Progress& progress) {
  std::vector<CalendarWeek> weeks;
  for (const Date arrive : weekly_arrivals(plan.arrive)) weeks.push_back({arrive, {}});
  OutcomeOptions alone = options;
  alone.threads = 1;
  PartsDone done(progress, "weeks", weeks.size());
  for_each_range(weeks.size(), 1, options.threads, [&](std::size_t i, std::size_t) {
    const PreparedPlan prepared = prepare(arriving_on(plan, weeks[i].arrive));
    weeks[i].risk = risk_summary(prepared, alone);
    add_climate_intervals(weeks[i].risk, prepared, alone);
    done.add();
  });
  return weeks;
}

std::vector<RingRun> runs_of_ring(const std::vector<bool>& holds) {
  const std::size_t n = holds.size();
  if (std::find(holds.begin(), holds.end(), false) == holds.end()) {
    return n == 0 ? std::vector<RingRun>{} : std::vector<RingRun>{{0, n - 1, n}};
  }
  std::vector<RingRun> runs;
  for (std::size_t i = 0; i < n; ++i) {
    if (!holds[i] || holds[(i + n - 1) % n]) continue;
    std::size_t count = 1;
    while (holds[(i + count) % n]) ++count;
    runs.push_back({i, (i + count - 1) % n, count});
  }
  return runs;
}

}  // namespace dullspell
