#include "reports/calendar_data.hpp"

#include <ostream>

#include "reports/calendar_verdict.hpp"
#include "reports/risk_summary_parts.hpp"

namespace dullspell {
namespace {

Data season_data(const std::vector<CalendarWeek>& weeks, const std::vector<bool>& holds) {
  Data out = Data::list();
  for (const RingRun& run : runs_of_ring(holds)) {
    out.push_back({{"first_arrival", iso_date(weeks[run.first].arrive)},
                   {"last_arrival", iso_date(weeks[run.last].arrive)},
                   {"weeks", run.count}});
  }
  return out;
}

}  // namespace

Data calendar_head(const CalendarReport& report, std::string_view program) {
  return survey_head("dullspell.calendar/1", program, report.options, report.plan);
}

Data calendar_results(const CalendarReport& report) {
  Data weeks = Data::list();
  for (const CalendarWeek& week : report.weeks) {
    Data entry = {{"arrive", iso_date(week.arrive)}};
    entry.update(risk_summary_data(week.risk, report.plan.accept_risk));
    weeks.push_back(std::move(entry));
  }
  const auto season = [&](Kit kit) {
    return season_data(report.weeks, weeks_that_hold(report, kit));
  };
  return {{"season", season(Kit::at_home)},
          {"season_with_generator", report.plan.generator ? season(Kit::generator_along) : Data()},
          {"weeks", std::move(weeks)}};
}

void write_calendar_csv(std::ostream& out, const CalendarReport& report) {
  CsvWriter csv(out, "arrive" + risk_summary_columns());
  for (const CalendarWeek& week : report.weeks) {
    csv.cells(iso_date(week.arrive));
    add_risk_summary_cells(csv, week.risk, report.plan.accept_risk);
    csv.end_row();
  }
}

}  // namespace dullspell
