#pragma once

#include <string>
#include <vector>

#include "weather/place_catalogue.hpp"

namespace dullspell {

/// Place files of one's own, each a place by the name of its file without ".toml".
struct OwnPlaces {
  std::vector<std::string> files;  ///< in the order of their names
  std::vector<Place> places;       ///< one of each
};

/// Reads every place file (*.toml) of a folder. `setting` is what names the folder, for messages.
/// Throws InputError, too, for a folder that is not there or has none, and for a name that
/// `catalogue` has already.
OwnPlaces read_own_places(const std::string& folder, const std::string& setting,
                          const PlaceCatalogue& catalogue);

}  // namespace dullspell
