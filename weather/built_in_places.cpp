#include "weather/place_catalogue.hpp"

// The tables' own bytes, put into the read-only data of the program by the assembler.
__asm__(
    ".section .rodata\n"
    ".balign 16\n"
    "dullspell_places_begin:\n"
    ".incbin \"" DULLSPELL_PLACES_TABLE
    "\"\n"
    "dullspell_places_end:\n"
    ".balign 16\n"
    "dullspell_sites_begin:\n"
    ".incbin \"" DULLSPELL_SITES_TABLE
    "\"\n"
    "dullspell_sites_end:\n"
    ".previous\n");

extern "C" {
extern const char dullspell_places_begin[];
extern const char dullspell_places_end[];
extern const char dullspell_sites_begin[];
extern const char dullspell_sites_end[];
}

namespace dullspell {

const PlaceCatalogue& PlaceCatalogue::built_in() {
  static const PlaceCatalogue catalogue(
      {"built-in sites", std::string(dullspell_sites_begin, dullspell_sites_end)},
      {"built-in places", std::string(dullspell_places_begin, dullspell_places_end)});
  return catalogue;
}

}  // namespace dullspell
