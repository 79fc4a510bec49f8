#pragma once

#include <string_view>

#include "reports/document.hpp"
#include "reports/levers_report.hpp"

namespace dullspell {

/// The report of `dullspell levers`. `program` is the program's name and version. Numbers for
/// programs are metric.
Document levers_document(const LeversReport& report, std::string_view program);

}  // namespace dullspell
