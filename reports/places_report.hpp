#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "weather/place_catalogue.hpp"

namespace dullspell {

/// The kind in one word of a table: "typical" for a typical year, "means" for monthly means.
std::string short_word(RecordKind kind);

/// A list of places, one a line with the kind of its record, then how many there are of each kind
/// and the terms of those that have their own. The distance column is there if `with_distance`.
void write_places(std::ostream& out, const std::vector<NearbyPlace>& places, bool with_distance);

/// A place's twelve months as a table.
void write_place_months(std::ostream& out, const Place& place);

}  // namespace dullspell
