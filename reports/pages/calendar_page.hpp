#pragma once

#include <iosfwd>
#include <string_view>

#include "reports/calendar_report.hpp"

namespace dullspell {

/// The report of `dullspell calendar` as a page. `program` is the program's name and version.
void write_calendar_page(std::ostream& out, const CalendarReport& report, std::string_view program);

}  // namespace dullspell
