#pragma once

#include <iosfwd>
#include <string_view>

#include "reports/json_parts.hpp"
#include "reports/run_report.hpp"

namespace dullspell {

/// The result of a run for programs, format "dullspell.run/1": numbers with units in their names,
/// null where undefined. `program` is the program's name and version.
Json run_json(const RunReport& report, std::string_view program);
void write_json_report(std::ostream& out, const RunReport& report, std::string_view program);

/// A plan as it is understood, defaults and what is known of the weather included.
Json plan_json(const Plan& plan, const PreparedPlan& prepared);

}  // namespace dullspell
