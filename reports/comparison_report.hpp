#pragma once

#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "engine/decisions/plan_comparison.hpp"
#include "reports/json_parts.hpp"
#include "reports/number_text.hpp"
#include "reports/text_writer.hpp"

namespace dullspell {

/// The report of `dullspell compare` for people. At least two plans, up to 26: each goes by a
/// letter.
void write_comparison_text(std::ostream& out, const std::vector<ComparedPlan>& plans,
                           TextStyle style = {}, Units units = Units::metric);

/// The same for programs, format "dullspell.compare/1". Numbers are metric, notes in `units`.
Json comparison_json(const std::vector<ComparedPlan>& plans, std::string_view program,
                     Units units = Units::metric);
void write_comparison_json(std::ostream& out, const std::vector<ComparedPlan>& plans,
                           std::string_view program, Units units = Units::metric);

/// One line a plan, the differences being those to the first.
void write_comparison_csv(std::ostream& out, const std::vector<ComparedPlan>& plans);

/// Which plan is safer and by how much, or that so many stays cannot tell.
std::string comparison_verdict(const std::vector<ComparedPlan>& plans);

/// What sets the plans apart besides kit: dates, places, lengths; and what they rest on.
std::vector<std::string> comparison_notes(const std::vector<ComparedPlan>& plans,
                                          Units units = Units::metric);

/// Of all plans, each once.
std::vector<std::string> comparison_cautions(const std::vector<ComparedPlan>& plans);

}  // namespace dullspell
