#pragma once

#include <iosfwd>
#include <string_view>

#include "reports/hindcast_report.hpp"

namespace dullspell {

/// The report of `dullspell hindcast` as a page. `program` is the program's name and version.
void write_hindcast_page(std::ostream& out, const HindcastReport& report, std::string_view program);

}  // namespace dullspell
