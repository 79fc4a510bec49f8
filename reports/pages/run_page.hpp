#pragma once

#include <iosfwd>
#include <string_view>

#include "reports/run_report.hpp"

namespace dullspell {

/// The report of `dullspell run` as a page. `program` is the program's name and version.
void write_run_page(std::ostream& out, const RunReport& report, std::string_view program);

}  // namespace dullspell
