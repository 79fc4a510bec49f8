#pragma once

#include <vector>

#include "weather/clock.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {

/// From sunrise to sunset by the clock of `day`, to the minute: one window, none in polar night,
/// the whole day in polar day. The sun rises and sets where its upper edge stands on a level
/// horizon behind the air, its centre 50' below: 34' of refraction and 16' of half a disc, as
/// almanacs count (Explanatory Supplement to the Astronomical Almanac, from memory). With the
/// declination of noon; within 3 minutes of the almanac's sun up to 60 degrees of latitude.
/// `latitude_deg` is that of `day`, -90..90.
std::vector<ClockWindow> daylight(const SolarDay& day, double latitude_deg);

}  // namespace dullspell
