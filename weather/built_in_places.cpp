#include "weather/embedded_file.hpp"
#include "weather/place_catalogue.hpp"

#define EMBED(symbol, file) DULLSPELL_EMBED(symbol, DULLSPELL_PLACES_FOLDER "/" file)

EMBED(dullspell_us_sites, "us_sites.tsv");
EMBED(dullspell_us_months, "us.csv");
EMBED(dullspell_canada_sites, "canada_sites.tsv");
EMBED(dullspell_canada_months, "canada.csv");
EMBED(dullspell_world_sites, "world_sites.tsv");
EMBED(dullspell_world_months, "world.csv");
EMBED(dullspell_cities_sites, "cities_sites.tsv");
EMBED(dullspell_cities_months, "cities.csv");

#define EMBEDDED(symbol) (std::string(symbol##_begin, symbol##_end))

namespace dullspell {

const PlaceCatalogue& PlaceCatalogue::built_in() {
  static const PlaceCatalogue catalogue(
      {{{"built-in US sites", EMBEDDED(dullspell_us_sites)},
        {"built-in US places", EMBEDDED(dullspell_us_months)}},
       {{"built-in Canadian sites", EMBEDDED(dullspell_canada_sites)},
        {"built-in Canadian places", EMBEDDED(dullspell_canada_months)}},
       {{"built-in world sites", EMBEDDED(dullspell_world_sites)},
        {"built-in world places", EMBEDDED(dullspell_world_months)}},
       {{"built-in city sites", EMBEDDED(dullspell_cities_sites)},
        {"built-in city places", EMBEDDED(dullspell_cities_months)}}});
  return catalogue;
}

}  // namespace dullspell
