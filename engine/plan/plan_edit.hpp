#pragma once

#include <cstddef>

#include "engine/plan/plan.hpp"

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

/// With arrival on another date, by the clock of that date unless the plan states summer time. The
/// plan must not be under way, nor know days.
Plan arriving_on(Plan plan, Date arrive);

/// With all camps at a place, each under its own shade. What the plan states of its camps' own
/// height and temperatures goes; the clock is that of the place.
Plan at_place(Plan plan, const Place& place);

/// With panels on fixed mounts as they would stand in the other hemisphere: north and south change
/// places, east and west do not.
Plan mirrored_panels(Plan plan);
/// Without one of its loads, or without its fridge.
Plan without_load(Plan plan, std::size_t load);
Plan without_fridge(Plan plan);

/// With one load used half as much: half the hours, or half the watts of what runs day and night.
Plan with_load_halved(Plan plan, std::size_t load);

/// A fixed group without any tilt.
bool lies_flat(const PanelGroup& group);

/// With one mount for all panels that lie flat, or for all that are not turned by hand.
Plan with_flat_panels_at(Plan plan, const PlaneDirection& plane);
Plan with_fixed_panels_aimed(Plan plan, const AimedMount& aimed);

/// With crowns above one of its camps that cover this share of the sky overhead.
Plan with_canopy(Plan plan, std::size_t camp, double canopy);

/// Without crowns and skylines.
Plan in_the_open(Plan plan);

/// With every set-point of its furnace moved. The plan must have one.
Plan with_furnace_warmer(Plan plan, double by_k);

/// With its inverter off at these times too. The plan must have one, and some time left for it.
Plan with_inverter_off(Plan plan, const ClockWindow& off);

/// Without its last night, whose camp goes if it had no other; what is known of dates beyond goes
/// too. The plan must have two nights, and not be under way beyond the new departure.
Plan one_night_shorter(Plan plan);

/// With this generator instead of its own or none.
Plan with_generator(Plan plan, const Generator& generator);

}  // namespace dullspell
