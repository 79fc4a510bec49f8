#pragma once

#include "engine/stay/prepared_plan.hpp"
#include "reports/json_parts.hpp"

namespace dullspell {

/// What a plan says, with every default filled in, but for what is known of its days.
Json plan_json(const Plan& plan);

/// The same with that.
Json plan_json(const Plan& plan, const PreparedPlan& prepared);

/// The places of its camps and where their statistics come from.
Json places_json(const Plan& plan);

}  // namespace dullspell
