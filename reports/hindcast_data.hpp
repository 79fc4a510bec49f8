#pragma once

#include <string_view>

#include "reports/data.hpp"
#include "reports/hindcast_report.hpp"

namespace dullspell {

/// What past years would have done to a plan, for programs.
Data past_years_data(const PastReport& past, const PreparedPlan& prepared);

/// The result of `dullspell hindcast` for programs, format "dullspell.hindcast/1", before the
/// verdict and after it; and with what only the charts need.
Data hindcast_head(const HindcastReport& report, std::string_view program);
Data hindcast_results(const HindcastReport& report);
Data hindcast_chart_data(const HindcastReport& report);

}  // namespace dullspell
