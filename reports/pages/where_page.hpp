#pragma once

#include <iosfwd>
#include <string_view>

#include "reports/where_report.hpp"

namespace dullspell {

/// The report of `dullspell where` as a page: all places on a plot, in a list the first thousand,
/// in full the best of those to be shown. `program` is the program's name and version.
void write_where_page(std::ostream& out, const WhereReport& report, std::string_view program);

}  // namespace dullspell
