#pragma once

#include <string_view>

#include "reports/document.hpp"
#include "reports/run_report.hpp"

namespace dullspell {

/// The report of `dullspell run`. `program` is the program's name and version.
Document run_document(const RunReport& report, std::string_view program);

/// The report of `dullspell budget`: the energy of an average day.
Document budget_document(const Plan& plan, const PreparedPlan& prepared, const Budget& budget);

}  // namespace dullspell
