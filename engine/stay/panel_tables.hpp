#pragma once

#include <vector>

#include "engine/stay/stay_calendar.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {

/// What the panels of a stay give under any sky.
struct PanelTables {
  /// Of each controller that its limit may hold back; the others share one entry without a limit.
  std::vector<double> controller_limit_w;
  std::vector<std::vector<PowerTable>> power;  ///< [camp day][controller]
};

/// `days` has an entry for each camp day.
PanelTables panel_tables(const Plan& plan, const StayCalendar& calendar,
                         const Indexed<SegmentIndex, SolarDay>& days);

}  // namespace dullspell
