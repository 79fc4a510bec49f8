#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "reports/table.hpp"
#include "reports/verdict.hpp"
#include "reports/where_report.hpp"

namespace dullspell {

/// At how many places the plan holds, in sentences that a camper would say.
std::string where_verdict(const WhereReport& report);
/// Plain where it holds at some places only.
Tone where_tone(const WhereReport& report);

/// "1 place", "1,234 places".
std::string places_text(std::size_t places);

/// How many places stand so, the generator left at home.
std::size_t places_standing(const WhereReport& report, RiskStanding wanted);

std::vector<std::string> where_notes(const WhereReport& report);

}  // namespace dullspell
