#pragma once

#include "engine/stay/prepared_plan.hpp"

namespace dullspell {

/// Builds the tables of a validated plan, see prepare_stay(), and says when its generator runs: by
/// the plan's own rule, or `night`, found on simulated weather (night_rule()).
PreparedPlan prepare(const Plan& plan);

/// Says when the generator of prepared tables runs, by its own rule; nothing without one.
void set_generator_rule(PreparedPlan& prepared);

/// What prepare() makes of the same plan with another battery, at less cost.
PreparedPlan with_battery(PreparedPlan prepared, const Battery& battery);

}  // namespace dullspell
