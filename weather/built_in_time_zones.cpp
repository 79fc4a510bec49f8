#include "weather/embedded_file.hpp"
#include "weather/time_zone.hpp"

DULLSPELL_EMBED(dullspell_zone_clocks, DULLSPELL_ZONES_FOLDER "/clocks.tsv");
DULLSPELL_EMBED(dullspell_zone_grid, DULLSPELL_ZONES_FOLDER "/grid.txt");

namespace dullspell {

const TimeZoneTable& TimeZoneTable::built_in() {
  static const TimeZoneTable table(
      {"built-in time zones", {dullspell_zone_clocks_begin, dullspell_zone_clocks_end}},
      {dullspell_zone_grid_begin, dullspell_zone_grid_end});
  return table;
}

}  // namespace dullspell
