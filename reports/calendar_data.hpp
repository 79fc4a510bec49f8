#pragma once

#include <iosfwd>
#include <string_view>

#include "reports/calendar_report.hpp"
#include "reports/data.hpp"

namespace dullspell {

/// The result of `dullspell calendar` for programs, format "dullspell.calendar/1", before the
/// verdict and after it: every week, and the seasons as stretches of weeks that may run over the
/// new year.
Data calendar_head(const CalendarReport& report, std::string_view program);
Data calendar_results(const CalendarReport& report);

/// A line a week.
void write_calendar_csv(std::ostream& out, const CalendarReport& report);

}  // namespace dullspell
