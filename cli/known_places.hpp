#pragma once

#include "weather/place_catalogue.hpp"

namespace dullspell {

/// The built-in places, and those of the folder that the environment variable DULLSPELL_DATA names,
/// if it is set and not empty. Read once. Throws InputError.
const PlaceCatalogue& known_places();

}  // namespace dullspell
