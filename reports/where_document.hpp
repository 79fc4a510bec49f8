#pragma once

#include <string_view>

#include "reports/document.hpp"
#include "reports/where_report.hpp"

namespace dullspell {

/// The report of `dullspell where`. `program` is the program's name and version. Numbers for
/// programs are metric.
Document where_document(const WhereReport& report, std::string_view program);

}  // namespace dullspell
