#pragma once

#include <iosfwd>
#include <string_view>

#include "reports/calendar_report.hpp"

namespace dullspell {

/// A calendar as one HTML page, see write_page().
void write_calendar_page(std::ostream& out, const CalendarReport& report, std::string_view program);

}  // namespace dullspell
