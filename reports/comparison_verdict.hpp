#pragma once

#include <string>
#include <vector>

#include "engine/decisions/plan_comparison.hpp"
#include "reports/number_text.hpp"

namespace dullspell {

/// Which plan is safer and by how much, or that so many stays cannot tell.
std::string comparison_verdict(const std::vector<ComparedPlan>& plans);

/// What sets the plans apart besides kit: dates, places, lengths; and what they rest on.
std::vector<std::string> comparison_notes(const std::vector<ComparedPlan>& plans,
                                          Units units = Units::metric);

/// Of all plans, each once.
std::vector<std::string> comparison_cautions(const std::vector<ComparedPlan>& plans);

}  // namespace dullspell
