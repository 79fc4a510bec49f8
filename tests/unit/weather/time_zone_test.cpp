#include "weather/time_zone.hpp"

#include <fstream>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <catch2/catch.hpp>

#include "weather/input/input_error.hpp"
#include "weather/place_catalogue.hpp"

using namespace dullspell;
using Catch::Matchers::Contains;

namespace {

const TimeZone& zone_at(double latitude_deg, double longitude_deg) {
  return TimeZoneTable::built_in().at({latitude_deg, longitude_deg});
}

const std::string kClocks =
    "clock\tzones\tutc_offset_h\tsummer_h\tsummer\n"
    "A\tx\t1\t0\t\nB\tx\t2\t0\t\nC\tx\t3\t0\t\nD\tx\t4.5\t1\tMar Sun>=8 .. Nov Sun>=1\n";

// All "A" but for one line, from the north and from the west.
std::string grid_with(int row, int column, const std::string& cell) {
  std::string grid;
  for (int i = 0; i < 32 * 32; ++i) grid += (i == 32 * row + column ? cell : "A") + "\n";
  return grid;
}

std::string line_of(std::ifstream& file) {
  std::string line;
  std::getline(file, line);
  return line;
}

}  // namespace

TEST_CASE("a split cell names its parts from the north and from the west") {
  // The cell from 0 to 5.625 degrees north, 0 to 11.25 east; its south-west is split once more.
  const TimeZoneTable table({"clocks", kClocks}, grid_with(15, 16, ".AB.CDBAC"));
  const auto offset_h = [&](double latitude, double longitude) {
    return table.at({latitude, longitude}).utc_offset_h;
  };
  CHECK(offset_h(4.0, 2.0) == 1.0);
  CHECK(offset_h(4.0, 8.0) == 2.0);
  CHECK(offset_h(2.5, 1.0) == 3.0);
  CHECK(offset_h(2.5, 4.0) == 4.5);
  CHECK(offset_h(0.5, 1.0) == 2.0);
  CHECK(offset_h(0.5, 4.0) == 1.0);
  CHECK(offset_h(1.0, 8.0) == 3.0);
  CHECK(offset_h(-0.1, 2.0) == 1.0);
  CHECK(offset_h(2.5, -0.1) == 1.0);
  CHECK(table.at({2.5, 4.0}).clock_h(make_date(2027, 7, 1)) == 5.5);
  CHECK(table.at({2.5, 4.0}).clock_h(make_date(2027, 1, 1)) == 4.5);
}

TEST_CASE("the corners of the Earth have a clock") {
  const TimeZoneTable table({"clocks", kClocks}, grid_with(31, 31, ".AAAC"));
  CHECK(table.at({-90.0, 180.0}).utc_offset_h == 3.0);
  CHECK(table.at({90.0, -180.0}).utc_offset_h == 1.0);
  CHECK(table.at({90.0, 180.0}).utc_offset_h == 1.0);
}

TEST_CASE("far out at sea the clock is that of the longitude") {
  const TimeZoneTable table({"clocks", kClocks}, grid_with(15, 16, "~"));
  CHECK(table.at({2.5, 7.4}).utc_offset_h == 0.0);
  CHECK(table.at({2.5, 7.6}).utc_offset_h == 1.0);
  CHECK(zone_at(-50.0, -120.0).utc_offset_h == -8.0);  // southern Pacific
  CHECK_FALSE(zone_at(-50.0, -120.0).summer.is_kept());
}

TEST_CASE("a bad table of clocks names its line and what is allowed") {
  const auto refusal = [](const std::string& row) -> std::string {
    try {
      TimeZoneTable({"clocks.tsv", kClocks + row}, grid_with(0, 0, "A"));
    } catch (const InputError& error) {
      return error.what();
    }
    return "";
  };
  CHECK_THAT(refusal("E\tx\t1\t1\tMar Sun\n"),
             Contains("clocks.tsv:6") && Contains("is no rule of summer time") &&
                 Contains("Mar Sun>=8 .. Nov Sun>=1") && Contains("make_time_zones.py"));
  CHECK_THAT(refusal("~\tx\t1\t0\t\n"), Contains("is not the character of a clock"));
  CHECK_THAT(refusal("EF\tx\t1\t0\t\n"), Contains("is not the character of a clock"));
  CHECK_THAT(refusal("E\tx\tnoon\t0\t\n"), Contains("utc_offset_h"));
}

TEST_CASE("every cell of the built-in grid is one whole tree of known clocks") {
  const std::string folder = DULLSPELL_SOURCE_DIR "/datasets/zones/";
  std::set<char> known{'~'};
  std::ifstream clocks(folder + "clocks.tsv");
  line_of(clocks);
  for (std::string row = line_of(clocks); !row.empty(); row = line_of(clocks)) known.insert(row[0]);
  CHECK(known.size() > 50);
  std::ifstream grid(folder + "grid.txt");
  int cells = 0;
  for (std::string cell = line_of(grid); !cell.empty(); cell = line_of(grid), ++cells) {
    INFO(cells);
    long open = 1;
    for (std::size_t at = 0; at < cell.size(); ++at) {
      REQUIRE(open > 0);
      if (cell[at] == '.') {
        open += 3;
      } else {
        --open;
        REQUIRE(known.count(cell[at]) == 1);
      }
    }
    REQUIRE(open == 0);
  }
  CHECK(cells == 1024);
}

TEST_CASE("clocks are those of the tz database, in winter and in summer") {
  // Offsets: IANA tz database 2026f, the files and zones named; coordinates of towns, rounded.
  struct Known {
    const char* where;
    double latitude_deg, longitude_deg, january_h, july_h;
  };
  const Known known[] = {
      // northamerica: America/Phoenix has had no summer time since 1968; the Navajo Nation keeps it
      // (America/Denver), the Hopi Reservation within it does not.
      {"Phoenix AZ", 33.45, -112.07, -7, -7},
      {"Quartzsite AZ", 33.66, -114.23, -7, -7},
      {"east of the Colorado near Blythe CA", 33.6, -114.3, -7, -7},
      {"Lake Havasu City AZ", 34.48, -114.32, -7, -7},
      {"Yuma AZ", 32.69, -114.62, -7, -7},
      {"Window Rock AZ, Navajo Nation", 35.68, -109.05, -7, -6},
      {"Kayenta AZ, Navajo Nation", 36.73, -110.25, -7, -6},
      {"Second Mesa AZ, Hopi Reservation", 35.79, -110.50, -7, -7},
      {"Moab UT", 38.57, -109.55, -7, -6},
      // America/Los_Angeles, America/Boise (also Malheur County OR), Denver (West Wendover NV).
      {"Blythe CA", 33.61, -114.59, -8, -7},
      {"Needles CA", 34.84, -114.61, -8, -7},
      {"Boise ID", 43.62, -116.20, -7, -6},
      {"Ontario OR", 44.03, -116.96, -7, -6},
      {"Coeur d'Alene ID", 47.68, -116.78, -8, -7},
      {"West Wendover NV", 40.74, -114.08, -7, -6},
      {"Ely NV", 39.25, -114.89, -8, -7},
      // America/Denver: El Paso and Hudspeth counties TX; the rest of Texas is America/Chicago.
      {"El Paso TX", 31.76, -106.49, -7, -6},
      {"Van Horn TX", 31.04, -104.83, -6, -5},
      // Indiana: Eastern, but Central near Chicago and Evansville; Tell_City (Perry County) and
      // Knox
      // (Starke) are Central, Petersburg (Pike) and Vincennes (Knox, Dubois) are Eastern.
      {"Indianapolis IN", 39.77, -86.16, -5, -4},
      {"Evansville IN", 37.97, -87.56, -6, -5},
      {"Tell City IN", 37.95, -86.76, -6, -5},
      {"Petersburg IN", 38.49, -87.28, -5, -4},
      {"Jasper IN", 38.39, -86.93, -5, -4},
      {"Knox IN", 41.30, -86.62, -6, -5},
      {"Anchorage AK", 61.22, -149.90, -9, -8},
      {"Adak AK", 51.88, -176.66, -10, -9},
      {"Honolulu HI", 21.31, -157.86, -10, -10},
      // NEWS of 2026b, c and e: British Columbia stays at -07, Alberta at -06, Manitoba at -05.
      {"Vancouver BC", 49.26, -123.12, -7, -7},
      {"Edmonton AB", 53.55, -113.49, -6, -6},
      {"Winnipeg MB", 49.90, -97.14, -5, -5},
      {"Whitehorse YT", 60.72, -135.06, -7, -7},
      {"Regina SK", 50.45, -104.61, -6, -6},
      {"Toronto ON", 43.65, -79.38, -5, -4},
      {"St. John's NL", 47.56, -52.71, -3.5, -2.5},
      {"La Paz, Baja California Sur", 24.14, -110.31, -7, -7},
      {"Tijuana", 32.51, -117.04, -8, -7},
      // southamerica
      {"Santiago", -33.45, -70.67, -3, -4},
      {"Punta Arenas", -53.16, -70.91, -3, -3},
      // australasia
      {"Adelaide", -34.93, 138.60, 10.5, 9.5},
      {"Broken Hill", -31.95, 141.47, 10.5, 9.5},
      {"Darwin", -12.46, 130.84, 9.5, 9.5},
      {"Eucla", -31.68, 128.88, 8.75, 8.75},
      {"Perth", -31.95, 115.86, 8, 8},
      {"Brisbane", -27.47, 153.03, 10, 10},
      {"Sydney", -33.87, 151.21, 11, 10},
      {"Hobart", -42.88, 147.33, 11, 10},
      {"Lord Howe Island", -31.55, 159.08, 11, 10.5},
      {"Queenstown NZ", -45.03, 168.66, 13, 12},
      {"Chatham Islands", -43.95, -176.55, 13.75, 12.75},
      // asia, africa
      {"Kathmandu", 27.72, 85.32, 5.75, 5.75},
      {"Delhi", 28.65, 77.23, 5.5, 5.5},
      {"Kabul", 34.53, 69.17, 4.5, 4.5},
      {"Jerusalem", 31.78, 35.22, 2, 3},
      {"Cairo", 30.04, 31.24, 2, 3},
      {"Cape Town", -33.93, 18.42, 2, 2},
      // europe
      {"London", 51.51, -0.13, 0, 1},
      {"Dublin", 53.35, -6.26, 0, 1},
      {"Lisbon", 38.72, -9.14, 0, 1},
      {"Madrid", 40.42, -3.70, 1, 2},
      {"Berlin", 52.52, 13.40, 1, 2},
      {"Athens", 37.98, 23.73, 2, 3},
      {"Reykjavik", 64.15, -21.94, 0, 0},
      {"Istanbul", 41.01, 28.98, 3, 3},
  };
  for (const Known& k : known) {
    INFO(k.where);
    const TimeZone& zone = zone_at(k.latitude_deg, k.longitude_deg);
    CHECK(zone.clock_h(make_date(2027, 1, 15)) == k.january_h);
    CHECK(zone.clock_h(make_date(2027, 7, 15)) == k.july_h);
  }
}

TEST_CASE("built-in rules change clocks on the dates of the tz database") {
  // Rules US, EU, AN, NZ, Chile, Zion (Israel) and Egypt, 2027, by a calendar.
  const auto changes = [](double latitude, double longitude) {
    const SummerTime& summer = zone_at(latitude, longitude).summer;
    const Date end = make_date(2027, 12, 31);
    const auto first = summer.change_between(make_date(2027, 1, 1), end);
    const auto second = summer.change_between(first.value(), end);
    return std::pair(*first, second.value());
  };
  CHECK(changes(39.74, -104.99) == std::pair(make_date(2027, 3, 14), make_date(2027, 11, 7)));
  CHECK(changes(48.86, 2.35) == std::pair(make_date(2027, 3, 28), make_date(2027, 10, 31)));
  CHECK(changes(-33.87, 151.21) == std::pair(make_date(2027, 4, 4), make_date(2027, 10, 3)));
  CHECK(changes(-41.29, 174.78) == std::pair(make_date(2027, 4, 4), make_date(2027, 9, 26)));
  CHECK(changes(-33.45, -70.67) == std::pair(make_date(2027, 4, 4), make_date(2027, 9, 5)));
  CHECK(changes(31.78, 35.22) == std::pair(make_date(2027, 3, 26), make_date(2027, 10, 31)));
  CHECK(changes(30.04, 31.24) == std::pair(make_date(2027, 4, 30), make_date(2027, 10, 29)));
}

TEST_CASE("built-in places keep the standard time of their zones") {
  // Mobridge SD keeps Central time; its coordinates, rounded, lie across the Missouri, which is the
  // border there.
  const std::set<std::string> beyond_a_border{"mobridge-sd"};
  for (const PlaceSummary& site : PlaceCatalogue::built_in().places()) {
    INFO(site.id);
    const bool agrees = TimeZoneTable::built_in().at(site.where).utc_offset_h == site.utc_offset_h;
    CHECK(agrees == (beyond_a_border.count(site.id) == 0));
  }
}
