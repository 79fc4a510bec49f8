#pragma once

#include <array>
#include <string_view>

#include "weather/solar_day.hpp"

namespace dullspell {

/// What the world grid knows of a spot, months 0..11.
struct GridMonths {
  double elevation_m = 0.0;
  double land_share = 0.0;  ///< 0..1
  std::array<double, 12> k_mean{};
  std::array<double, 12> temp_mean_c{};  ///< at that elevation
  std::array<double, 12> temp_range_c{};
};

/// Monthly means of clearness and temperature over land and sea, cells of 2.5 degrees.
class WorldGrid {
 public:
  /// Lines of 127 characters and a line feed, cell (i, j) at latitude -88.75 + 2.5 i and longitude
  /// -178.75 + 2.5 j in line 144 i + j: elevation in m (4 characters), land share in percent (3),
  /// clearness in thousandths (12 times 3), mean temperature in tenths of a degree C (12 times 4)
  /// and its daily range in tenths of a K (12 times 3). It must be good, and outlive the grid.
  explicit WorldGrid(std::string_view lines);

  /// The grid that the program carries.
  static const WorldGrid& built_in();

  /// Linear between the four nearest centers; beyond the last ones towards a pole, as they say.
  GridMonths at(const Coordinates& where) const;

  /// Standard deviation of the elevations of the four cells, m: how hilly it is.
  double relief_m(const Coordinates& where) const;

 private:
  std::string_view lines_;
};

}  // namespace dullspell
