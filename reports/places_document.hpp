#pragma once

#include <string>
#include <vector>

#include "reports/document.hpp"
#include "reports/number_text.hpp"
#include "weather/place_catalogue.hpp"
#include "weather/towns.hpp"

namespace dullspell {

/// The kind in one word of a table: "typical" for a typical year, "means" for monthly means.
std::string short_word(RecordKind kind);

/// Whether a list of places says how far away each is.
enum class Distances { shown, left_out };

/// A list of places, one a line with the kind of its record, then how many there are of each kind
/// and the terms of those that have their own; and a list of towns.
Document places_document(const std::vector<NearbyPlace>& places, const std::vector<Town>& towns,
                         Distances distances, Units units = Units::metric);

/// A place's twelve months as a table.
Document place_document(const Place& place, Units units = Units::metric);

}  // namespace dullspell
