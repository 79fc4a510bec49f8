#pragma once

#include "engine/plan/plan.hpp"
#include "weather/time_zone.hpp"

namespace dullspell {

/// The zone whose standard time a camp keeps: that of its coordinates or, near a border, a
/// neighbor's; null where none there has the UTC offset that plan or place states.
const TimeZone* zone_of(const Camp& camp);

/// Sets the clock that the whole plan goes by. Where the plan states neither summer time nor the
/// first camp's UTC offset, it is what a phone shows there on the date of arrival: the camp's
/// standard time, with summer time where its zone keeps it.
void set_clock(Plan& plan);

/// What clocks at a camp show on a date, minus UTC. A UTC offset that the plan states and no zone
/// there has is taken at its word, with summer time if that is the plan's.
double local_clock_h(const Plan& plan, const Camp& camp, Date date);

}  // namespace dullspell
