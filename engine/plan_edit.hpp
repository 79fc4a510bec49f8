#pragma once

#include "engine/plan.hpp"

namespace dullspell {

/// Plans as they would be if one thing were different: what a changed file would say, for questions
/// that ask about many changes. Results are validated plans if the values are such as a file may
/// state; nothing is checked here.

/// With another capacity on the battery's label. Limits that were stated in W stay as they are;
/// those in units of the capacity follow it.
Plan with_battery_wh(Plan plan, double capacity_wh);

/// With a battery that holds another share of its label; limits in units of the capacity follow.
Plan with_battery_health(Plan plan, double health);

/// Rated power of all panels together.
double rated_panels_w(const Plan& plan);

/// With so much of the same panels in all, shared as now. Controllers keep their limits. The plan
/// must have panels.
Plan with_panels_w(Plan plan, double total_w);

/// With the battery and panels of an option, where it states them.
Plan with_option(Plan plan, const KitOption& option);

/// With arrival on another date. The plan must not be under way, nor know days.
Plan arriving_on(Plan plan, Date arrive);

/// With all camps at a place, each under its own shade. What the plan states of its camps' own
/// height and temperatures goes; the clock is that of the place.
Plan at_place(Plan plan, const Place& place);

/// With panels on fixed mounts as they would stand in the other hemisphere: north and south change
/// places, east and west do not.
Plan mirrored_panels(Plan plan);

}  // namespace dullspell
