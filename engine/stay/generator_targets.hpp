#pragma once

#include <vector>

#include "engine/stay/prepared_plan.hpp"

namespace dullspell {

/// Rule `night`: the stored energy to reach in each hour in which the generator may run, Wh, from
/// expected loads and weather alone (no look at drawn weather); negative in other hours.
///
/// In the day's last allowed window the store must cover the expected draw of the coming night,
/// with the margin, and of what is left of the window, less the sun that a dullish day still brings
/// in it (a long window would else be run in the morning for the evening). The night runs from the
/// window's end (or from the hour in which panels at the date's 25 % clearness quantile fall below
/// the draw, if later) to the first hour in which they exceed it again, at
/// most to the same window a day later. In earlier windows it must last, without sun, to the next
/// window.
std::vector<double> generator_targets_wh(const PreparedPlan& prepared);

}  // namespace dullspell
