#pragma once

#include "reports/calendar_report.hpp"
#include "reports/table.hpp"

namespace dullspell {

/// The tables of `dullspell calendar`, a row a week: the risk, generator left at home; the same
/// with the generator along, and its hours. The plan has a generator for those two.
Table weeks_table(const CalendarReport& report);
Table weeks_along_table(const CalendarReport& report);
Table weeks_hours_table(const CalendarReport& report);

}  // namespace dullspell
