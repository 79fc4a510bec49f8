#pragma once

#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "engine/decisions/calendar_survey.hpp"
#include "reports/number_text.hpp"
#include "reports/text_writer.hpp"

namespace dullspell {

/// Everything that a report of `dullspell calendar` is made from.
struct CalendarReport {
  const Plan& plan;
  const std::vector<CalendarWeek>& weeks;
  const OutcomeOptions& options;
  Units units = Units::metric;  ///< of its texts
};

/// The season in which the plan holds, in sentences that a camper would say.
std::string calendar_verdict(const CalendarReport& report);

/// For people.
void write_calendar_text(std::ostream& out, const CalendarReport& report, TextStyle style = {});

/// Format "dullspell.calendar/1": every week, and the seasons as stretches of weeks that may run
/// over the new year.
void write_calendar_json(std::ostream& out, const CalendarReport& report, std::string_view program);

/// A line a week.
void write_calendar_csv(std::ostream& out, const CalendarReport& report);

}  // namespace dullspell
