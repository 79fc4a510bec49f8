#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "weather/clock.hpp"

namespace dullspell {

/// Where a load is connected: before the inverter, behind it, or behind it through a converter that
/// makes low voltage again (a trailer plugged into the box).
enum class LoadSide { dc, ac, dc_via_ac };

std::string to_string(LoadSide side);

/// From sunset to sunrise, or from sunrise to sunset.
enum class DayPart { dark, daylight };

std::string to_string(DayPart part);

struct Load {
  std::string name;
  LoadSide side = LoadSide::dc;
  double watts = 0.0;
  /// Length of its windows unless stated; on dates that leave less of them, all of that.
  double hours_per_day = 24.0;
  std::vector<ClockWindow> between;  ///< when it may run; the whole day unless stated
  std::optional<DayPart> only;       ///< the part of these windows in which it runs
  bool hours_stated = false;
  double varies = 0.0;  ///< coefficient of variation of the daily use
  /// Use on a dull day over that on a clear one: longer if its hours are stated, else stronger.
  double dull_day_factor = 1.0;
  std::optional<double> optional_below;  ///< state of charge below which it is given up

  bool never_stops() const { return !only && hours_per_day >= 23.99; }

  /// The most that it takes at once.
  double greatest_w() const {
    return hours_stated ? watts : watts * std::max(1.0, dull_day_factor);
  }
};

/// When it may run on a date whose daylight() is given; none if no part of its windows is left.
std::vector<ClockWindow> windows_on(const Load& load, const std::vector<ClockWindow>& daylight);

}  // namespace dullspell
