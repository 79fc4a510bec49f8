#pragma once

#include <vector>

#include "engine/stay/stay_calendar.hpp"

namespace dullspell {

/// What feeds the battery's side in one hour besides the panels.
struct HourSources {
  Source source = Source::none;
  double share = 0.0;      ///< of the hour: mains connected, or generator allowed
  double vehicle_w = 0.0;  ///< averaged over the hour
};

/// Decides for each hour of the stay, the only place that does, what feeds it: the vehicle while
/// one drives, the mains at a camp that has them, else the generator in its windows.
std::vector<HourSources> sources_of(const Plan& plan, const StayCalendar& calendar);

}  // namespace dullspell
