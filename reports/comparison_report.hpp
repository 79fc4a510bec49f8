#pragma once

#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "engine/decisions/plan_comparison.hpp"
#include "reports/text_writer.hpp"

namespace dullspell {

/// The report of `dullspell compare` for people. At least two plans,
/// up to 26: each goes by a letter.
void write_comparison_text(std::ostream& out, const std::vector<ComparedPlan>& plans,
                           TextStyle style = {});

/// The same for programs, format "dullspell.compare/1".
void write_comparison_json(std::ostream& out, const std::vector<ComparedPlan>& plans,
                           std::string_view program);

/// One line a plan, the differences being those to the first.
void write_comparison_csv(std::ostream& out, const std::vector<ComparedPlan>& plans);

/// Which plan is safer and by how much, or that so many stays cannot tell.
std::string comparison_verdict(const std::vector<ComparedPlan>& plans);

/// What sets the plans apart besides kit: dates, places, lengths; and what they rest on.
std::vector<std::string> comparison_notes(const std::vector<ComparedPlan>& plans);

}  // namespace dullspell
