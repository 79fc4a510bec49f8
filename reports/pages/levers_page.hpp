#pragma once

#include <iosfwd>
#include <string_view>

#include "reports/levers_report.hpp"

namespace dullspell {

/// The report of `dullspell levers` as a page, with all levers. `program` is the program's name and
/// version.
void write_levers_page(std::ostream& out, const LeversReport& report, std::string_view program);

}  // namespace dullspell
