#pragma once

#include "engine/kit/camp.hpp"
#include "weather/input/toml_section.hpp"
#include "weather/place_catalogue.hpp"

namespace dullspell {

/// A table [[camp]]; its place is one of `places`, one typed, or a file beside the plan.
Camp read_camp(TomlSection& section, const PlaceCatalogue& places);

}  // namespace dullspell
