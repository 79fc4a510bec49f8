#pragma once

#include "weather/sun_position.hpp"

namespace dullspell {

/// How a panel faces: tilt 0 (flat) to 90 (upright); azimuth clockwise from north.
struct PlaneDirection {
  double tilt_deg;
  double azimuth_deg;
};

/// Cosine of the angle between the plane's normal and the sun; negative behind the plane.
double cos_incidence(const PlaneDirection& plane, const SunDirection& sun);

/// Share of an unshaded uniform sky that a plane sees, (1 + cos tilt) / 2.
double open_sky_view_factor(double tilt_deg);

/// Irradiance of a tilted plane in parts, W/m2, since shade treats them apart.
struct PlaneIrradiance {
  double beam;         ///< straight from the sun
  double circumsolar;  ///< scattered, but from around the sun: shaded with the beam
  double sky;          ///< uniform sky, for the whole sky that the plane sees in the open
  double ground;       ///< reflected

  double total() const { return beam + circumsolar + sky + ground; }
};

/// What Hay & Davies need of the sun and a plane, whatever the light.
struct PlaneGeometry {
  double cos_zenith;            ///< guarded below 0.01745
  double beam_ratio;            ///< of the plane's beam to the horizontal one
  double open_sky_view_factor;  ///< as the function of this name
  double ground_share;          ///< (1 - cos tilt) / 2

  PlaneGeometry(const PlaneDirection& plane, const SunDirection& sun);
};

/// Hay & Davies 1980 (as in Duffie & Beckman 2.16): the share DNI / extraterrestrial normal of the
/// diffuse light comes from around the sun, the rest from a uniform sky. Horizontal irradiances and
/// `extraterrestrial_normal` in W/m2.
PlaneIrradiance hay_davies(const PlaneGeometry& geometry, double beam_horizontal,
                           double diffuse_horizontal, double extraterrestrial_normal,
                           double albedo);
PlaneIrradiance hay_davies(const PlaneDirection& plane, const SunDirection& sun,
                           double beam_horizontal, double diffuse_horizontal,
                           double extraterrestrial_normal, double albedo);

}  // namespace dullspell
