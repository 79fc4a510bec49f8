#include <cmath>

#include <boost/math/special_functions/expint.hpp>

#include "tests/support/reference_table.hpp"
#include "weather/angles.hpp"
#include "weather/shade.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;

constexpr PlaneDirection kFlat{0.0, 0.0};

// Canopy cover that belongs to a leaf area; the inverse of leaf_area_of_cover.
double cover_of_leaf_area(double leaf_area) {
  return 1.0 - std::exp(-0.5 * leaf_area);
}

Shade ring(double height_deg) {
  return Shade(0.0, {{0.0, 360.0, height_deg, 0.0}});
}

// The grid takes the middle of each 1 deg band with the band's exact area. With s = sin(elevation)
// the integrand is 2 s tau(s) ds: the midpoint rule errs by h^2/24 times the difference of the end
// slopes, and h^2/24 = 1.3e-5 with slopes of at most 2; the band's area adds h^2/8 = 3.8e-5
// relative.
constexpr double kBandError = 7e-5;

TEST_CASE("Canopy extinction and the light of the sun below it agree with the table") {
  const int rows = for_each_row(
      "canopy.csv",
      {"x", "LAI", "K_0", "K_30", "K_60", "K_75", "taub_0", "taub_30", "taub_60", "taub_75"},
      [](double x, double leaf_area, double k0, double k30, double k60, double k75, double t0,
         double t30, double t60, double t75) {
        constexpr double kLastDigit = 1e-5;
        const double zeniths[]{0.0, 30.0, 60.0, 75.0};
        const double extinctions[]{k0, k30, k60, k75}, transmittances[]{t0, t30, t60, t75};
        for (std::size_t i = 0; i < 4; ++i) {
          INFO("zenith " << zeniths[i]);
          const double k = canopy_extinction(zeniths[i], x);
          CHECK_THAT(k, WithinAbs(extinctions[i], kLastDigit));
          CHECK_THAT(std::exp(-k * leaf_area), WithinAbs(transmittances[i], kLastDigit));
          if (x == 1.0) {
            CHECK_THAT(canopy_transmittance(leaf_area, zeniths[i]),
                       WithinAbs(transmittances[i], kLastDigit));
          }
        }
      });
  CHECK(rows == 18);
}

TEST_CASE("A flat panel's sky below a canopy agrees with the table") {
  int compared = 0;
  for_each_row("canopy.csv", {"x", "LAI", "tau_d"}, [&](double x, double leaf_area, double tau_d) {
    const double cover = cover_of_leaf_area(leaf_area);
    if (x != 1.0 || cover > 0.95) return;
    CHECK_THAT(Shade(cover, {}).sky_view_factor(kFlat), WithinAbs(tau_d, kBandError + 5e-6));
    ++compared;
  });
  CHECK(compared == 5);
}

TEST_CASE("A spherical canopy lets through twice the third exponential integral") {
  // K = k0 / cos(zenith) makes the integral over the sky 2 E3(k0 L); the coefficients of Campbell
  // and Norman give k0 = 0.49967 in the place of the exact 1/2.
  const double k0 = canopy_extinction(0.0, 1.0);
  CHECK_THAT(k0, WithinAbs(0.5, 4e-4));
  for (const double cover : {0.05, 0.3, 0.5, 0.8, 0.95}) {
    INFO("cover " << cover);
    CHECK_THAT(Shade(cover, {}).sky_view_factor(kFlat),
               WithinAbs(2.0 * boost::math::expint(3, k0 * leaf_area_of_cover(cover)), kBandError));
  }
}

TEST_CASE("Leaf area and cover are each other's inverse") {
  for (const double leaf_area : {0.0, 0.1, 1.0, 3.0, 5.9}) {
    CHECK_THAT(leaf_area_of_cover(cover_of_leaf_area(leaf_area)), WithinAbs(leaf_area, 1e-12));
  }
}

TEST_CASE("The sky above a ring of hills agrees with the table for flat and tilted planes") {
  // The heights fall on lines of the grid, so no cell is cut by the skyline. Cells cut by the
  // plane's own horizon err by at most an eighth of the squared step of 2 deg, 1.5e-4, each: two a
  // band, so 2 x 1.5e-4 / pi = 1e-4 over all bands; the table itself is good to 1e-6.
  constexpr double kCutCells = 1e-4;
  const int rows =
      for_each_row("sky_view_ring.csv", {"tilt_deg", "h_deg", "svf_numeric"},
                   [](double tilt_deg, double height_deg, double sky_view) {
                     for (const double azimuth_deg : {180.0, 0.0, 137.3}) {
                       INFO("azimuth " << azimuth_deg);
                       CHECK_THAT(ring(height_deg).sky_view_factor({tilt_deg, azimuth_deg}),
                                  WithinAbs(sky_view, kBandError + kCutCells + 1e-6));
                     }
                   });
  CHECK(rows == 36);
}

TEST_CASE("A ring of hills leaves a flat plane the squared cosine of its height") {
  for (const double height_deg : {1.0, 15.0, 40.0, 70.0}) {
    INFO("height " << height_deg);
    const double cosine = cos_deg(height_deg);
    CHECK_THAT(ring(height_deg).sky_view_factor(kFlat), WithinAbs(cosine * cosine, kBandError));
  }
}

}  // namespace
}  // namespace dullspell
