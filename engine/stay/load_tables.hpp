#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "engine/stay/stay_calendar.hpp"
#include "weather/normal_function.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {

/// A load by hours of the stay; flexible ones depend on the day or on the state of charge.
struct FlexibleLoad {
  std::string name;
  bool ac = false;            ///< behind the inverter
  std::vector<double> watts;  ///< by hour of the stay, on a usual day
  std::optional<double> optional_below;
  bool varies = false;
  NormalFunction use_of_draw;  ///< lognormal of mean 1
  double dull_day_factor = 1.0;
  Indexed<SegmentIndex, double> most;  ///< greatest multiple of the usual day

  std::uint32_t draw_block = 0;  ///< of its name: keys its draws, whatever other loads there are
  double converter_loss = 0.0;   ///< share of `watts` that a converter behind the inverter loses
};

/// The loads of a stay by hour.
struct LoadTables {
  std::vector<FlexibleLoad> flexible;  ///< optional ones first
  std::vector<FlexibleLoad> fixed;     ///< always wanted and never varying: summed below
  std::vector<double> fixed_dc_w, fixed_ac_w;
};

/// `suns` has an entry for each of the calendar's camp days.
LoadTables load_tables(const Plan& plan, const StayCalendar& calendar,
                       const Indexed<SegmentIndex, SolarDay>& suns);

/// Share of each clock hour that the inverter is on, 24 entries; 0 without one.
std::vector<double> inverter_on_by_hour(const Plan& plan);

/// A load's use in a segment over its usual use: `variation` is the day's draw (1 for none); the
/// dull-day factor holds in full up to K = 0.25 and not at all from K = 0.50; hours of use are
/// never more than its windows hold.
double use_on_day(const FlexibleLoad& load, SegmentIndex segment, double variation, double k);

}  // namespace dullspell
