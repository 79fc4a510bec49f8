#pragma once

#include <optional>
#include <string>
#include <vector>

#include "weather/calendar.hpp"
#include "weather/known_sky.hpp"

namespace dullspell {

/// What a display was read for.
enum class ReadingKind {
  charge,       ///< state of charge at two times
  panels_w,     ///< what panels bring at a time
  draw_w,       ///< what is drawn at a time
  panels_wh,    ///< what panels brought between two times
  used_wh,      ///< what was used between two times
  delivered_wh  ///< what one full discharge gave
};

constexpr bool is_of_panels(ReadingKind kind) {
  return kind == ReadingKind::panels_w || kind == ReadingKind::panels_wh;
}

/// Of one moment, not of what lies between two.
constexpr bool is_at_a_time(ReadingKind kind) {
  return kind == ReadingKind::panels_w || kind == ReadingKind::draw_w;
}

/// Whether a display counts what loads take, or what leaves the battery, the inverter's losses with
/// it.
enum class CountedAt { loads, battery };

/// One glance at a display, or two of them.
struct Reading {
  ReadingKind kind = ReadingKind::charge;
  LocalTime from{}, to{};    ///< the same for a reading at a time; unused for delivered_wh
  double shown = 0.0;        ///< W or Wh; of a charge the state at `to`, 0..1
  double charge_from = 0.0;  ///< of a charge, 0..1
  double at_w = 0.0;         ///< draw of a full discharge, W
  CountedAt counted_at = CountedAt::loads;
  std::size_t camp = 0;      ///< number of the camp in the plan
  bool in_the_open = false;  ///< panels stood away from its trees and hills
  std::optional<KnownSky> sky;
  std::optional<std::vector<std::string>> on;  ///< loads that ran, and no others but standby
  std::vector<std::string> off;                ///< loads that were not used
  bool logged = false;                         ///< noted down by the display itself
};

/// Names of what draws power besides the plan's loads.
inline constexpr const char* kFridgeName = "fridge";
inline constexpr const char* kFurnaceName = "furnace";
inline constexpr const char* kInverterName = "inverter";

/// Longest span of a reading, days.
constexpr int kLongestReading_days = 7;

}  // namespace dullspell
