#include "weather/shade.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "weather/angles.hpp"
#include "weather/tilted_plane.hpp"

namespace dullspell {

double canopy_extinction(double zenith_deg, double x) {
  const double tangent = tan_deg(zenith_deg);
  return std::sqrt(x * x + tangent * tangent) / (x + 1.774 * std::pow(x + 1.182, -0.733));
}

double leaf_area_of_cover(double covered) {
  return -2.0 * std::log1p(-covered);
}

double canopy_transmittance(double leaf_area, double zenith_deg) {
  constexpr double kSpherical = 1.0;
  if (leaf_area <= 0.0) return 1.0;
  if (zenith_deg >= 90.0) return 0.0;
  return std::exp(-canopy_extinction(zenith_deg, kSpherical) * leaf_area);
}

namespace {

bool spans(const SkylineSector& sector, double azimuth_deg) {
  const double width = sector.to_deg - sector.from_deg;
  return width >= 360.0 || wrap_to_360_deg(azimuth_deg - sector.from_deg) < wrap_to_360_deg(width);
}

}  // namespace

Shade::Shade(double canopy_cover, std::vector<SkylineSector> skyline)
    : leaf_area_(leaf_area_of_cover(canopy_cover)), skyline_(std::move(skyline)) {}

double Shade::skyline_transmittance(double elevation_deg, double azimuth_deg) const {
  double passes = 1.0;
  for (const SkylineSector& sector : skyline_) {
    if (elevation_deg < sector.height_deg && spans(sector, azimuth_deg)) {
      passes *= sector.lets_through;
    }
  }
  return passes;
}

double Shade::transmittance(const SunDirection& direction) const {
  const double elevation_deg = direction.elevation_deg();
  if (elevation_deg <= 0.0) return 0.0;
  return skyline_transmittance(elevation_deg, direction.azimuth_deg) *
         canopy_transmittance(leaf_area_, direction.zenith_deg);
}

double Shade::sky_view_factor(const PlaneDirection& plane) const {
  if (is_open()) return open_sky_view_factor(plane.tilt_deg);
  constexpr double kElevationStep_deg = 1.0, kAzimuthStep_deg = 2.0;
  constexpr std::size_t kAzimuths = 180;
  const auto azimuth_of = [](std::size_t i) {
    return (static_cast<double>(i) + 0.5) * kAzimuthStep_deg;
  };
  const double cos_tilt = cos_deg(plane.tilt_deg), sin_tilt = sin_deg(plane.tilt_deg);
  std::array<double, kAzimuths> across{};  // of the plane's normal, by azimuth
  for (std::size_t i = 0; i < kAzimuths; ++i) {
    across[i] = sin_tilt * cos_deg(azimuth_of(i) - plane.azimuth_deg);
  }
  std::vector<std::array<bool, kAzimuths>> spanned(skyline_.size());  // by sector and azimuth
  for (std::size_t s = 0; s < skyline_.size(); ++s) {
    for (std::size_t i = 0; i < kAzimuths; ++i) spanned[s][i] = spans(skyline_[s], azimuth_of(i));
  }
  double sum = 0.0;
  for (double elevation = 0.5 * kElevationStep_deg; elevation < 90.0;
       elevation += kElevationStep_deg) {
    const double through_crowns = canopy_transmittance(leaf_area_, 90.0 - elevation);
    const double upward = cos_tilt * sin_deg(elevation), outward = cos_deg(elevation);
    double ring = 0.0;
    for (std::size_t i = 0; i < kAzimuths; ++i) {
      const double cos_incidence = upward + outward * across[i];
      if (cos_incidence <= 0.0) continue;
      double passes = 1.0;
      for (std::size_t s = 0; s < skyline_.size(); ++s) {
        if (spanned[s][i] && elevation < skyline_[s].height_deg) passes *= skyline_[s].lets_through;
      }
      ring += cos_incidence * passes;
    }
    // cos(elevation) times the step is the exact band of the sphere when integrated over the step.
    const double band = sin_deg(elevation + 0.5 * kElevationStep_deg) -
                        sin_deg(elevation - 0.5 * kElevationStep_deg);
    sum += ring * through_crowns * band * kAzimuthStep_deg * kRadPerDeg;
  }
  return sum / std::numbers::pi;
}

}  // namespace dullspell
