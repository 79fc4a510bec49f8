#include <cmath>

#include "tests/support/reference_table.hpp"
#include "weather/angles.hpp"
#include "weather/diffuse_split.hpp"
#include "weather/extraterrestrial_radiation.hpp"
#include "weather/sun_position.hpp"
#include "weather/tilted_plane.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;

TEST_CASE("Hay and Davies' parts of a tilted plane's irradiance agree with the table") {
  int behind = 0, low_sun = 0;
  const int rows = for_each_row(
      "transposition.csv",
      {"tilt_deg", "surface_azimuth_deg", "zenith_deg", "solar_azimuth_deg", "dni_extra_W_m2",
       "dhi_W_m2", "dni_W_m2", "albedo", "aoi_deg", "beam_W_m2", "ground_W_m2",
       "sky_haydavies_W_m2", "poa_haydavies_W_m2"},
      [&](double tilt, double azimuth, double zenith, double sun_azimuth, double normal_above_air,
          double diffuse, double beam_normal, double albedo, double incidence, double beam,
          double ground, double sky, double total) {
        const PlaneDirection plane{tilt, azimuth};
        const SunDirection sun{zenith, sun_azimuth};
        CHECK_THAT(cos_incidence(plane, sun), WithinAbs(cos_deg(incidence), 2e-7));

        const PlaneIrradiance parts = hay_davies(plane, sun, beam_normal * cos_deg(zenith), diffuse,
                                                 normal_above_air, albedo);
        // Inputs and outputs are printed to 1e-5 W/m2, and the beam ratio is below 12 here.
        constexpr double kPrinted_w_m2 = 1e-4;
        CHECK_THAT(parts.beam, WithinAbs(beam, kPrinted_w_m2));
        CHECK_THAT(parts.circumsolar + parts.sky, WithinAbs(sky, kPrinted_w_m2));
        CHECK_THAT(parts.ground, WithinAbs(ground, kPrinted_w_m2));
        CHECK_THAT(parts.total(), WithinAbs(total, kPrinted_w_m2));
        behind += incidence > 90.0;
        low_sun += zenith > 80.0;
      });
  CHECK(rows == 60);
  CHECK(behind > 0);
  CHECK(low_sun > 0);
}

TEST_CASE("Hay and Davies' circumsolar share follows the sun and vanishes without beam") {
  const PlaneDirection upright{90.0, 180.0};
  const SunDirection south{60.0, 180.0}, north{60.0, 0.0};
  const auto facing = hay_davies(upright, south, 300.0, 100.0, 1361.0, 0.2);
  const double normal_share = 300.0 / 0.5 / 1361.0;
  CHECK_THAT(facing.circumsolar,
             WithinAbs(100.0 * normal_share * sin_deg(60.0) / cos_deg(60.0), 1e-9));
  CHECK_THAT(facing.sky, WithinAbs(100.0 * (1.0 - normal_share) * 0.5, 1e-9));
  const auto averted = hay_davies(upright, north, 300.0, 100.0, 1361.0, 0.2);
  CHECK(averted.beam == 0.0);
  CHECK(averted.circumsolar == 0.0);
  const auto overcast = hay_davies(upright, south, 0.0, 100.0, 1361.0, 0.2);
  CHECK(overcast.circumsolar == 0.0);
  CHECK_THAT(overcast.sky, WithinAbs(50.0, 1e-12));
  CHECK_THAT(overcast.ground, WithinAbs(0.2 * 100.0 * 0.5, 1e-12));
}

TEST_CASE("The beam ratio is held where the sun stands at the horizon") {
  const auto parts = hay_davies({90.0, 180.0}, {90.0, 180.0}, 1.0, 0.0, 1361.0, 0.0);
  CHECK_THAT(parts.beam, WithinAbs(1.0 / 0.01745, 1e-9));
}

TEST_CASE("A horizontal plane gets what falls on it") {
  for (const double zenith_deg : {0.0, 30.0, 75.0, 88.9}) {
    const auto parts = hay_davies({0.0, 123.0}, {zenith_deg, 77.0}, 240.0, 90.0, 1361.0, 0.7);
    CHECK_THAT(parts.total(), WithinAbs(330.0, 1e-9));
    CHECK(parts.ground == 0.0);
  }
}

TEST_CASE("Duffie & Beckman 2.15.1: beam, sky and ground on a steep plane on 20 February") {
  // Solar Engineering of Thermal Processes; printed answers from memory: 40 N, tilt 60 to the
  // south, 9 to 10 o'clock, I = 1.04 MJ/m2, albedo 0.60. I0 2.34, kt 0.445, Id 0.796, Ib 0.244,
  // Rb 1.71; with a uniform sky 1.17 MJ/m2 in all.
  constexpr int kDay = 51;
  constexpr double kTotal_mj_m2 = 1.04;
  const double declination_deg = cooper_declination_deg(kDay);
  const double above_air_mj_m2 =
      0.0036 * extraterrestrial_between_wh_m2(40.0, declination_deg,
                                              1.0 + 0.033 * cos_deg(360.0 * kDay / 365.0), -45.0,
                                              -30.0, 1367.0);
  CHECK_THAT(above_air_mj_m2, WithinAbs(2.34, 0.006));
  const double clearness = kTotal_mj_m2 / above_air_mj_m2;
  CHECK_THAT(clearness, WithinAbs(0.445, 0.001));
  const double diffuse = kTotal_mj_m2 * erbs_hourly_diffuse_share(clearness);
  const double beam = kTotal_mj_m2 - diffuse;
  CHECK_THAT(diffuse, WithinAbs(0.796, 0.001));
  CHECK_THAT(beam, WithinAbs(0.244, 0.001));

  const PlaneDirection plane{60.0, 180.0};
  const auto sun = sun_direction_from_hour_angle(40.0, declination_deg, -37.5);
  const double ratio = cos_incidence(plane, sun) / cos_deg(sun.zenith_deg);
  CHECK_THAT(ratio, WithinAbs(1.71, 0.006));
  // Without an extraterrestrial beam to compare with, the whole sky counts as uniform.
  const auto uniform = hay_davies(plane, sun, beam, diffuse, 0.0, 0.60);
  CHECK_THAT(uniform.beam, WithinAbs(0.244 * 1.71, 0.003));
  CHECK_THAT(uniform.total(), WithinAbs(1.17, 0.01));
}

}  // namespace
}  // namespace dullspell
