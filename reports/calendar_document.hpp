#pragma once

#include <string_view>

#include "reports/calendar_report.hpp"
#include "reports/document.hpp"

namespace dullspell {

/// The report of `dullspell calendar`. `program` is the program's name and version. Numbers for
/// programs are metric.
Document calendar_document(const CalendarReport& report, std::string_view program);

}  // namespace dullspell
