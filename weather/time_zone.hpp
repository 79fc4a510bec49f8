#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "weather/input/source_text.hpp"
#include "weather/solar_day.hpp"
#include "weather/summer_time.hpp"

namespace dullspell {

/// A clock that people keep: zones that agree on every date are one.
struct TimeZone {
  double utc_offset_h = 0.0;  ///< of standard time
  SummerTime summer;

  /// Clock minus UTC on a date.
  double clock_h(Date date) const { return utc_offset_h + summer.ahead_h(date); }
};

/// The zones of the Earth: a tree of halved cells down to 0.022 degrees of longitude by 0.011 of
/// latitude, some 2 km, so that a border may be off by half of that.
class TimeZoneTable {
 public:
  /// `clocks`: tab-separated, columns clock (one character), utc_offset_h, summer_h, summer (see
  /// SummerTime::parse). `grid`: 32 rows of 32 lines, from the north and from the west, each a cell
  /// of 11.25 by 5.625 degrees: the character of its clock, "~" for sea, or "." and then its four
  /// parts in the same way, those in the north first, the western one of two first. Throws
  /// InputError for a bad table of clocks; the grid must be good.
  TimeZoneTable(const SourceText& clocks, std::string grid);
  TimeZoneTable(const TimeZoneTable&) = delete;
  TimeZoneTable& operator=(const TimeZoneTable&) = delete;

  /// The table that the program carries.
  static const TimeZoneTable& built_in();

  /// The zone at a place; far out at sea that of the longitude.
  const TimeZone& at(const Coordinates& where) const;

  /// The zones in eight directions at a distance.
  std::array<const TimeZone*, 8> around(const Coordinates& where, double km) const;

 private:
  std::string grid_;
  std::vector<std::string_view> cells_;  ///< lines of grid_
  std::vector<TimeZone> zone_of_;        ///< by character
  std::vector<TimeZone> at_sea_;         ///< by hours from UTC, from -12
};

}  // namespace dullspell
