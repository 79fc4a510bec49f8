#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "engine/plan/plan.hpp"

namespace dullspell {

/// What a display of the panels shows in each clock hour of a day, W averaged over the hour, if the
/// battery takes all of it.
struct PanelDay {
  std::array<double, 24> watts{};

  double energy_wh() const;  ///< of the whole day
};

/// A day under one sky, at a camp and away from all shade.
struct ShadedDay {
  SkyWord sky{};
  double k = 0.0;  ///< clearness that the word stands for there
  PanelDay here, open;

  double taken_wh() const { return open.energy_wh() - here.energy_wh(); }
  double taken_share() const;  ///< of what is there in the open, 0..1; 0 where nothing is
};

/// A figure for each of kSkyWords.
using BySky = std::array<double, kSkyWords.size()>;

/// What a canopy would leave in one hour, all else as it is, W.
struct CanopyWatts {
  double canopy = 0.0;
  BySky watts{};
};

/// What the display of the panels shows at one camp on one date, by the clock there: what
/// ReadingModel makes of a reading in the middle of each hour.
struct ShadeTable {
  std::size_t camp = 0;  ///< its number in the plan
  Date date{};
  double clock_offset_h = 0.0;  ///< clock at the camp on the date minus UTC
  bool summer_time = false;
  std::vector<int> hours;  ///< in which the sun is up, in order; none in polar night
  std::array<ShadedDay, kSkyWords.size()> days{};
  int best_hour = 12;  ///< that brings most on a clear day below no crowns
  /// In that hour: what each canopy would leave, the plan's own among them, thicker ones later ...
  std::vector<CanopyWatts> by_canopy;
  BySky doubt_w{};  ///< ... and panel_doubt_w() at the plan's own

  const ShadedDay& day(SkyWord sky) const { return days[static_cast<std::size_t>(sky)]; }
};

/// The date in the middle of a camp's nights.
Date middle_date(const Plan& plan, std::size_t camp);

/// The plan must have panels.
ShadeTable shade_table(const Plan& plan, std::size_t camp, Date date);

}  // namespace dullspell
