#pragma once

#include <string_view>

#include "reports/audit_report.hpp"
#include "reports/document.hpp"

namespace dullspell {

/// What the display says against the list, what it corrects, and what to read next.
Document audit_document(const AuditReport& report, std::string_view program);

}  // namespace dullspell
