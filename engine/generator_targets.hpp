#pragma once

#include "engine/prepared_plan.hpp"

namespace dullspell {

/// Rule `night`: sets each allowed hour's stored energy to reach, from expected loads and weather
/// alone (no look at drawn weather).
///
/// In the day's last allowed window the store must cover the expected draw of the coming night,
/// with the margin, and of what is left of the window, less the sun that a dullish day still brings
/// in it (a long window would else be run in the morning for the evening). The night runs from the
/// window's end (or from the hour in which panels at the date's 25 % clearness quantile fall below
/// the draw, if later) to the first hour in which they exceed it again, at
/// most to the same window a day later. In earlier windows it must last, without sun, to the next
/// window.
void set_generator_targets(PreparedPlan& prepared);

}  // namespace dullspell
