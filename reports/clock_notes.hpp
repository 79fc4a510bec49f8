#pragma once

#include <string>
#include <vector>

#include "engine/plan/plan.hpp"
#include "reports/number_text.hpp"

namespace dullspell {

/// Where clocks that campers see differ from the one that the whole plan goes by, of the dates from
/// `first` to `last`: hours typed by such a clock would mislead.
std::vector<std::string> clock_notes(const Plan& plan, Date first, Date last, Units units);

}  // namespace dullspell
