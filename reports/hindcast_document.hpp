#pragma once

#include <string_view>

#include "reports/document.hpp"
#include "reports/hindcast_report.hpp"

namespace dullspell {

/// The report of `dullspell hindcast`. `program` is the program's name and version. Numbers for
/// programs are metric.
Document hindcast_document(const HindcastReport& report, std::string_view program);

}  // namespace dullspell
