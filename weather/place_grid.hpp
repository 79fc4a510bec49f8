#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "weather/place_filter.hpp"

namespace dullspell {

/// The most cells that one grid may have.
constexpr std::size_t kMostCells = 20'000;

/// Places in the middle of those cells of a grid of `step_deg` degrees, from the south pole and the
/// date line on, whose middles are on land and within the filter's box, circle and country, which
/// is that of the nearest town; from north to south, in a row from west to east. Their months are
/// to be made by PlaceBlend. Nothing if there were more than kMostCells.
std::optional<std::vector<PlaceSummary>> grid_places(double step_deg, const PlaceFilter& filter);

}  // namespace dullspell
