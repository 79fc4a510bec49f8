#pragma once

#include <string>

#include "engine/plan.hpp"
#include "weather/input/source_text.hpp"
#include "weather/place_catalogue.hpp"

namespace dullspell {

/// Reads and checks a plan. Throws InputError that points at the key.
/// Place files named in the plan are looked for beside it.
Plan parse_plan(SourceText source, const PlaceCatalogue& places = PlaceCatalogue::built_in());

/// The same from a file, "-" being standard input.
Plan read_plan(const std::string& path, const PlaceCatalogue& places = PlaceCatalogue::built_in());

}  // namespace dullspell
