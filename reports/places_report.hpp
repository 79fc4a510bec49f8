#pragma once

#include <iosfwd>
#include <vector>

#include "weather/place_catalogue.hpp"

namespace dullspell {

/// A list of places, one a line; the distance column is there if `with_distance`.
void write_places(std::ostream& out, const std::vector<NearbyPlace>& places, bool with_distance);

/// A place's twelve months as a table.
void write_place_months(std::ostream& out, const Place& place);

}  // namespace dullspell
