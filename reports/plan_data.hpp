#pragma once

#include "engine/stay/prepared_plan.hpp"
#include "reports/data.hpp"

namespace dullspell {

/// What a plan says, with every default filled in, but for what is known of its days.
Data plan_data(const Plan& plan);

/// The same with that.
Data plan_data(const Plan& plan, const PreparedPlan& prepared);

/// The places of its camps and where their statistics come from.
Data places_data(const Plan& plan);

}  // namespace dullspell
