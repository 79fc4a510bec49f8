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

struct Load {
  std::string name;
  LoadSide side = LoadSide::dc;
  double watts = 0.0;
  double hours_per_day = 24.0;       ///< length of its windows unless stated
  std::vector<ClockWindow> between;  ///< when it may run; the whole day unless stated
  bool hours_stated = false;
  double varies = 0.0;  ///< coefficient of variation of the daily use
  /// Use on a dull day over that on a clear one: longer if its hours are stated, else stronger.
  double dull_day_factor = 1.0;
  std::optional<double> optional_below;  ///< state of charge below which it is given up

  bool never_stops() const { return hours_per_day >= 23.99; }

  /// The most that it takes at once.
  double greatest_w() const {
    return hours_stated ? watts : watts * std::max(1.0, dull_day_factor);
  }
};

}  // namespace dullspell
