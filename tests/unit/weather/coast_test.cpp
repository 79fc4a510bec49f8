#include "weather/coast.hpp"

#include <catch2/catch.hpp>

using namespace dullspell;

TEST_CASE("what lies within a ring is land, but for a lake in it") {
  const Coast coast(
      "# a square and a lake\n0,0 1000,0 1000,1000 0,1000 0,0\n"
      "400,400 600,400 600,600 400,600 400,400\n");
  CHECK(coast.rings().size() == 2);
  CHECK(coast.rings()[0][2].longitude_deg == 10.0);
  CHECK(coast.is_land({2.0, 3.0}));
  CHECK_FALSE(coast.is_land({5.0, 5.0}));
  CHECK_FALSE(coast.is_land({2.0, 11.0}));
  CHECK_FALSE(coast.is_land({-2.0, 3.0}));
}

TEST_CASE("continents and oceans are where they are") {
  const Coast& coast = Coast::built_in();
  for (const Coordinates land : {Coordinates{39.0, -105.5},
                                 {-25.0, 134.0},
                                 {48.0, 11.0},
                                 {65.0, -150.0},
                                 {-15.0, -55.0},
                                 {60.0, 100.0},
                                 {-44.0, 170.5},
                                 {67.0, -178.0},
                                 {67.0, 178.0},
                                 {-85.0, 0.0}}) {
    CAPTURE(land.latitude_deg, land.longitude_deg);
    CHECK(coast.is_land(land));
  }
  for (const Coordinates sea : {Coordinates{0.0, -30.0},
                                {40.0, -40.0},
                                {-50.0, 90.0},
                                {30.0, -150.0},
                                {43.2, 34.0},
                                {80.0, 0.0}}) {
    CAPTURE(sea.latitude_deg, sea.longitude_deg);
    CHECK_FALSE(coast.is_land(sea));
  }
}
