#include "weather/place_catalogue.hpp"

// A table's own bytes, put into the read-only data of the program by the assembler. Its ends are
// global, as the declaration says: on ARM64 the offset table cannot hold local labels of one
// section.
#define EMBED(symbol, file)                                                                    \
  __asm__(".section .rodata\n.balign 16\n.global " #symbol "_begin, " #symbol "_end\n" #symbol \
          "_begin:\n.incbin \"" DULLSPELL_PLACES_FOLDER "/" file "\"\n" #symbol                \
          "_end:\n"                                                                            \
          ".previous\n");                                                                      \
  extern "C" const char symbol##_begin[], symbol##_end[]

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
