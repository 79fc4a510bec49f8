#pragma once

#include "reports/audit_report.hpp"
#include "reports/document.hpp"

namespace dullspell {

/// The tables of an audit, as its text and its page show them.

/// What the display shows beside what the list and the corrected figures say.
Table readings_table(const AuditReport& report);

/// The plan's guesses, how far off they may be, and what readings make of them.
Table figures_table(const AuditReport& report);

/// The number that a reading to take will have in the plan, behind those that it has.
std::size_t number_to_take(const AuditReport& report, std::size_t next);

/// A row for each look at the display that is worth taking, with room to write what it shows: cells
/// hold blanks in a text, on a page the units alone.
Table checklist_table(const AuditReport& report, Shown shown);

}  // namespace dullspell
