#include "weather/place_grid.hpp"

#include <algorithm>

#include <catch2/catch.hpp>

#include "weather/towns.hpp"

using namespace dullspell;

TEST_CASE("cells lie on land, from north to south and from west to east") {
  PlaceFilter filter;
  filter.box = GeoBox{35.0, -115.0, 39.0, -110.0};  // Utah and Arizona, far from the sea
  const auto cells = grid_places(0.5, filter);
  REQUIRE(cells);
  REQUIRE(cells->size() == 8 * 10);
  CHECK(cells->front().where.latitude_deg == 38.75);
  CHECK(cells->front().where.longitude_deg == -114.75);
  CHECK(cells->back().where.latitude_deg == 35.25);
  CHECK(cells->front().id == "38.75,-114.75");
  CHECK(cells->front().country == "US");
  CHECK(cells->front().record == RecordKind::blended);
  filter.box = GeoBox{30.0, -140.0, 40.0, -130.0};  // the open Pacific
  CHECK(grid_places(1.0, filter)->empty());
}

TEST_CASE("cells of a country are nearest to its towns, also over the date line") {
  PlaceFilter filter;
  filter.country = "NZ";
  const auto cells = grid_places(1.0, filter);
  REQUIRE(cells);
  // 268,000 km2 of about 8,800 km2 a cell at 41 degrees south: from memory.
  CHECK(cells->size() > 20);
  CHECK(cells->size() < 45);
  for (const PlaceSummary& cell : *cells) {
    CHECK(cell.where.latitude_deg < -33.0);
    CHECK(cell.where.longitude_deg > 165.0);
  }
  CHECK(TownTable::built_in().countries_at({{48.2, 16.4}, {46.2, 6.1}, {-51.7, -57.9}}) ==
        std::vector<std::string>{"AT", "CH", "FK"});
}

TEST_CASE("a circle leaves the cells within it, and a grid without end is refused", "[long]") {
  PlaceFilter filter;
  filter.circle = Circle{{39.0, -105.5}, 100.0};
  const auto cells = grid_places(0.5, filter);
  REQUIRE(cells);
  // 31,400 km2 in cells of 55.6 km by 43.2 km.
  CHECK(cells->size() == Approx(13).margin(2));
  for (const PlaceSummary& cell : *cells) {
    CHECK(distance_km(cell.where, filter.circle->centre) <= 100.0);
  }
  filter.circle->radius_km = 20'000.0;
  CHECK_FALSE(grid_places(0.25, filter));
}
