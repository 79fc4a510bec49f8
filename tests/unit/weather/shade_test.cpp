#include <utility>

#include <catch2/catch.hpp>

#include "weather/angles.hpp"
#include "weather/shade.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;

constexpr double kTrees = 0.2;

SunDirection at(double elevation_deg, double azimuth_deg) {
  return {90.0 - elevation_deg, azimuth_deg};
}

TEST_CASE("An open camp lets everything through, from above the horizon") {
  const Shade open;
  CHECK(open.is_open());
  CHECK(open.transmittance(at(0.01, 200.0)) == 1.0);
  CHECK(open.transmittance(at(90.0, 0.0)) == 1.0);
  CHECK(open.transmittance(at(0.0, 200.0)) == 0.0);
  CHECK(open.transmittance(at(-5.0, 200.0)) == 0.0);
  CHECK_THAT(open.sky_view_factor({30.0, 180.0}), WithinAbs(0.5 * (1.0 + cos_deg(30.0)), 1e-15));
  CHECK(Shade(0.0, {}).is_open());
}

TEST_CASE("A skyline shades below its edge within its sector only") {
  const Shade hill(0.0, {{90.0, 180.0, 25.0, 0.0}});
  CHECK_FALSE(hill.is_open());
  CHECK(hill.transmittance(at(24.9, 135.0)) == 0.0);
  CHECK(hill.transmittance(at(25.1, 135.0)) == 1.0);
  CHECK(hill.transmittance(at(10.0, 89.9)) == 1.0);
  CHECK(hill.transmittance(at(10.0, 90.0)) == 0.0);
  CHECK(hill.transmittance(at(10.0, 179.9)) == 0.0);
  CHECK(hill.transmittance(at(10.0, 180.0)) == 1.0);
}

TEST_CASE("A sector may wrap over north") {
  const Shade hill(0.0, {{340.0, 20.0, 30.0, kTrees}});
  for (const double azimuth : {340.0, 359.9, 0.0, 10.0, 19.9}) {
    INFO("azimuth " << azimuth);
    CHECK(hill.transmittance(at(15.0, azimuth)) == kTrees);
  }
  for (const double azimuth : {20.0, 180.0, 339.9}) {
    INFO("azimuth " << azimuth);
    CHECK(hill.transmittance(at(15.0, azimuth)) == 1.0);
  }
}

TEST_CASE("A sector over north has the sky of an equal one elsewhere") {
  const Shade north(0.0, {{340.0, 20.0, 30.0, 0.0}});
  const Shade south(0.0, {{160.0, 200.0, 30.0, 0.0}});
  CHECK_THAT(north.sky_view_factor({35.0, 0.0}),
             WithinAbs(south.sky_view_factor({35.0, 180.0}), 1e-12));
  CHECK(north.sky_view_factor({35.0, 0.0}) < north.sky_view_factor({35.0, 180.0}));
}

TEST_CASE("A sector of the full circle, however written, shades all round") {
  for (const auto& [from, to] : {std::pair{0.0, 360.0}, {-180.0, 180.0}, {10.0, 370.0}}) {
    const Shade ring(0.0, {{from, to, 20.0, 0.0}});
    for (const double azimuth : {0.0, 9.0, 10.0, 180.0, 359.0}) {
      CHECK(ring.transmittance(at(19.0, azimuth)) == 0.0);
    }
  }
}

TEST_CASE("Sectors that overlap shade one after the other") {
  const Shade two(0.0, {{0.0, 180.0, 30.0, 0.5}, {90.0, 270.0, 10.0, 0.25}});
  CHECK(two.transmittance(at(5.0, 120.0)) == 0.125);
  CHECK(two.transmittance(at(20.0, 120.0)) == 0.5);
  CHECK(two.transmittance(at(5.0, 200.0)) == 0.25);
}

TEST_CASE("A canopy dims the overhead sun by its cover, and lower suns more") {
  const Shade crowns(0.6, {});
  // The extinction of a spherical canopy straight down is 0.49967 in the place of 1/2.
  CHECK_THAT(crowns.transmittance(at(90.0, 0.0)), WithinAbs(0.4, 3e-4));
  CHECK(crowns.transmittance(at(30.0, 0.0)) < crowns.transmittance(at(60.0, 0.0)));
  CHECK(crowns.transmittance(at(0.5, 0.0)) < 1e-6);
}

TEST_CASE("Canopy and skyline work together") {
  const Shade both(0.5, {{0.0, 360.0, 40.0, kTrees}});
  const Shade crowns(0.5, {});
  CHECK_THAT(both.transmittance(at(35.0, 77.0)),
             WithinAbs(kTrees * crowns.transmittance(at(35.0, 77.0)), 1e-15));
  CHECK(both.sky_view_factor({0.0, 0.0}) < crowns.sky_view_factor({0.0, 0.0}));
}

TEST_CASE("More cover never lets more sky through") {
  double before = 1.0;
  for (const double cover : {0.05, 0.2, 0.4, 0.6, 0.8, 0.95}) {
    const double share = Shade(cover, {}).sky_view_factor({0.0, 0.0});
    CHECK(share < before);
    CHECK(share < 1.0 - cover);  // the sky below the zenith passes more leaves
    before = share;
  }
}

}  // namespace
}  // namespace dullspell
