#pragma once

#include <string>
#include <vector>

#include "reports/shade_report.hpp"

namespace dullspell {

/// Whether what was seen lies as near to what the plan makes of it as such readings do.
bool agrees_with_plan(const AnsweredGlance& seen);

/// Whether what was seen is that of some canopy, give or take.
bool names_a_canopy(const AnsweredGlance& seen);

/// Which canopy was seen, or else what a clear day should show at the first camp.
std::string shade_verdict(const ShadeReport& report);

/// What a clear day should show at the other camps; at all of them where the verdict is an answer.
std::vector<std::string> shade_of_camps(const ShadeReport& report);

/// What the figures rest on.
std::vector<std::string> shade_notes(const ShadeReport& report);

}  // namespace dullspell
