#pragma once

#include <string_view>

#include "reports/audit_report.hpp"
#include "reports/data.hpp"

namespace dullspell {

/// Members of an audit's JSON before the verdict, and after it.
Data audit_head(const AuditReport& report, std::string_view program);
Data audit_results(const AuditReport& report);

/// What its charts draw besides: each figure's correction and ranges, as shares of what the plan
/// states or, where its spread is added, as differences from it.
Data audit_chart_data(const AuditReport& report);

}  // namespace dullspell
