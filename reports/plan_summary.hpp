#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "engine/stay/prepared_plan.hpp"
#include "reports/document.hpp"
#include "reports/number_text.hpp"

namespace dullspell {

/// "UTC-7, summer time".
std::string clock_name(double offset_h, bool summer_time);

/// The clock that the whole plan goes by.
std::string clock_name(const Plan& plan);

/// When the generator runs, by its rule and windows.
std::string generator_rule(const Generator& generator);

/// Dates, each camp, kit, and what is known of the stay so far: a line each. `known` is the weather
/// that is known of the plan's dates.
std::vector<std::string> plan_summary(const Plan& plan, const std::vector<KnownDate>& known);

/// The step that leads on where a plan does not hold: which commands say what to change.
Step step_to_change_plan();

/// The last line of a report: how it was made.
std::string study_footer(std::uint64_t stays, std::uint64_t seed);

}  // namespace dullspell
