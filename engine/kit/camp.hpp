#pragma once

#include <array>
#include <optional>
#include <vector>

#include "weather/place.hpp"
#include "weather/shade.hpp"

namespace dullspell {

/// Greatest canopy that a camp may state: denser crowns leave no gap to speak of.
constexpr double kMostCanopy = 0.95;

/// One leg of a trip.
struct Camp {
  Place place;                        ///< whose weather statistics are used
  Coordinates where{};                ///< of the camp; decides the sun
  std::optional<double> elevation_m;  ///< of the camp, if stated or a town's
  /// Monthly means typed for the camp, if any; they stand in `place` too.
  std::optional<std::array<double, 12>> temp_mean_c;
  int nights = 1;
  double canopy = 0.0;  ///< 0..kMostCanopy
  std::vector<SkylineSector> skyline;
  double drive_in_h = 0.0;  ///< driven after the change into this camp
  bool hookup = false;      ///< shore power at this camp
  /// Whether the plan states the camp's UTC offset, which then is its clock, whatever its zone.
  bool utc_offset_stated = false;
};

}  // namespace dullspell
