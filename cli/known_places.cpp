#include "cli/known_places.hpp"

#include <cstdlib>
#include <string>

#include "cli/output/files_in_use.hpp"
#include "weather/own_places.hpp"

namespace dullspell {
namespace {

PlaceCatalogue with_own_places(const std::string& folder) {
  const PlaceCatalogue& built_in = PlaceCatalogue::built_in();
  OwnPlaces own = read_own_places(folder, "DULLSPELL_DATA", built_in);
  for (const std::string& file : own.files) note_file_in_use(file);
  return built_in.with(std::move(own.places));
}

}  // namespace

const PlaceCatalogue& known_places() {
  const char* folder = std::getenv("DULLSPELL_DATA");
  if (!folder || !*folder) return PlaceCatalogue::built_in();
  static const PlaceCatalogue places = with_own_places(folder);
  return places;
}

}  // namespace dullspell
