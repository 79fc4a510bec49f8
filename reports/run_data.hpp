#pragma once

#include <string_view>

#include "reports/data.hpp"
#include "reports/run_report.hpp"

namespace dullspell {

/// The result of a run for programs, format "dullspell.run/1": numbers with units in their names,
/// null where undefined. Before the verdict and after it; `program` is its name and version.
Data run_head(const RunReport& report, std::string_view program);
Data run_results(const RunReport& report);

/// What charts draw of those results, where that is less than all: not every hour of a long stay,
/// no generator hours that no stay reaches.
Data run_chart_data(const RunReport& report, const Data& results);

}  // namespace dullspell
