#pragma once

#include <vector>

#include "weather/sun_position.hpp"
#include "weather/tilted_plane.hpp"

namespace dullspell {

/// Something that stands along part of the horizon, from azimuth `from_deg` clockwise to `to_deg`.
struct SkylineSector {
  double from_deg;
  double to_deg;
  double height_deg;    ///< elevation of its upper edge, 0..90
  double lets_through;  ///< share of the light that passes below the edge: hills 0, trees 0.05..0.3
};

/// Extinction coefficient of a canopy with ellipsoidal leaf angles (ratio x; 1 is spherical):
/// Campbell & Norman 1998, An Introduction to Environmental Biophysics, eq. 15.4.
double canopy_extinction(double zenith_deg, double leaf_angle_ratio);

/// Leaf area that leaves the share 1 - `covered` of light from straight above: a spherical canopy
/// has the extinction 1/2 there, hence L = -2 ln(1 - covered). `covered` 0..0.95.
double leaf_area_of_cover(double covered);

/// Share of light from one direction that gets through a spherical canopy, Beer–Lambert.
double canopy_transmittance(double leaf_area, double zenith_deg);

/// What stands around and above a camp.
class Shade {
 public:
  /// An open camp.
  Shade() = default;

  /// `canopy_cover` is the share of the overhead sky that crowns cover, 0..0.95.
  Shade(double canopy_cover, std::vector<SkylineSector> skyline);

  bool is_open() const { return leaf_area_ == 0.0 && skyline_.empty(); }

  /// Share of the light from a direction that arrives, 0..1; nothing from below the horizon.
  double transmittance(const SunDirection& direction) const;

  /// Irradiance of a plane by a uniform sky seen through the shade, over that of a horizontal plane
  /// in the open; (1 + cos tilt) / 2 for an open camp. Sum over a grid of 1 deg x 2 deg.
  double sky_view_factor(const PlaneDirection& plane) const;

 private:
  double skyline_transmittance(double elevation_deg, double azimuth_deg) const;

  double leaf_area_ = 0.0;
  std::vector<SkylineSector> skyline_;
};

}  // namespace dullspell
