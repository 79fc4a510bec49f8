#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "reports/number_text.hpp"
#include "reports/text_writer.hpp"
#include "weather/place_catalogue.hpp"

namespace dullspell {

/// The kind in one word of a table: "typical" for a typical year, "means" for monthly means.
std::string short_word(RecordKind kind);

/// A list of places, one a line with the kind of its record, then how many there are of each kind
/// and the terms of those that have their own. The distance column is there if `with_distance`.
void write_places(std::ostream& out, const std::vector<NearbyPlace>& places, bool with_distance,
                  Units units = Units::metric, TextStyle style = {});

/// A place's twelve months as a table.
void write_place_months(std::ostream& out, const Place& place, Units units = Units::metric,
                        TextStyle style = {});
void write_place_months(TextWriter& writer, const Place& place, Units units);

}  // namespace dullspell
