#pragma once

#include <string_view>

#include "reports/document.hpp"
#include "reports/shade_report.hpp"

namespace dullspell {

/// The report of `dullspell shade`. `program` is the program's name and version. Numbers for
/// programs are metric.
Document shade_document(const ShadeReport& report, std::string_view program);

}  // namespace dullspell
