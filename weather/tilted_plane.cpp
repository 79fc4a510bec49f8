#include "weather/tilted_plane.hpp"

#include <algorithm>

#include "weather/angles.hpp"

namespace dullspell {

double cos_incidence(const PlaneDirection& plane, const SunDirection& sun) {
  return cos_deg(plane.tilt_deg) * cos_deg(sun.zenith_deg) +
         sin_deg(plane.tilt_deg) * sin_deg(sun.zenith_deg) *
             cos_deg(sun.azimuth_deg - plane.azimuth_deg);
}

double open_sky_view_factor(double tilt_deg) {
  return 0.5 * (1.0 + cos_deg(tilt_deg));
}

PlaneGeometry::PlaneGeometry(const PlaneDirection& plane, const SunDirection& sun)
    : cos_zenith(std::max(0.01745, cos_deg(sun.zenith_deg))),
      beam_ratio(std::max(0.0, cos_incidence(plane, sun)) / cos_zenith),
      open_sky_view_factor(dullspell::open_sky_view_factor(plane.tilt_deg)),
      ground_share(0.5 * (1.0 - cos_deg(plane.tilt_deg))) {}

PlaneIrradiance hay_davies(const PlaneGeometry& geometry, double beam_horizontal,
                           double diffuse_horizontal, double extraterrestrial_normal,
                           double albedo) {
  const double beam_normal = beam_horizontal / geometry.cos_zenith;
  const double anisotropy = extraterrestrial_normal > 0.0
                                ? std::clamp(beam_normal / extraterrestrial_normal, 0.0, 1.0)
                                : 0.0;
  PlaneIrradiance out{};
  out.beam = beam_horizontal * geometry.beam_ratio;
  out.circumsolar = diffuse_horizontal * anisotropy * geometry.beam_ratio;
  out.sky = diffuse_horizontal * (1.0 - anisotropy) * geometry.open_sky_view_factor;
  out.ground = albedo * (beam_horizontal + diffuse_horizontal) * geometry.ground_share;
  return out;
}

PlaneIrradiance hay_davies(const PlaneDirection& plane, const SunDirection& sun,
                           double beam_horizontal, double diffuse_horizontal,
                           double extraterrestrial_normal, double albedo) {
  return hay_davies(PlaneGeometry(plane, sun), beam_horizontal, diffuse_horizontal,
                    extraterrestrial_normal, albedo);
}

}  // namespace dullspell
