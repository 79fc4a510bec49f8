#pragma once

#include <cmath>
#include <vector>

#include "weather/day_sequence.hpp"
#include "weather/grid_rounding.hpp"

namespace dullspell {

/// A link with stated persistence of Z and share of the year, on the common grid.
inline DayLink link_of(double phi, double share) {
  return {on_grid(phi),
          on_grid(std::sqrt(1.0 - phi * phi)),
          on_grid(std::sqrt(share)),
          on_grid(std::sqrt(1.0 - share)),
          on_grid(0.6),
          on_grid(0.8)};
}

/// Days that all differ in both, as they do where months blend and camps change.
inline std::vector<DayLink> differing_links(int days) {
  std::vector<DayLink> links;
  for (int d = 0; d < days; ++d)
    links.push_back(link_of(0.55 - 0.06 * (d % 6), 0.04 + 0.03 * (d % 7)));
  return links;
}

}  // namespace dullspell
