#pragma once

#include <cmath>
#include <numbers>

namespace dullspell {

constexpr double kRadPerDeg = std::numbers::pi / 180.0;

inline double sin_deg(double angle_deg) {
  return std::sin(angle_deg * kRadPerDeg);
}
inline double cos_deg(double angle_deg) {
  return std::cos(angle_deg * kRadPerDeg);
}
inline double tan_deg(double angle_deg) {
  return std::tan(angle_deg * kRadPerDeg);
}

/// The same direction in [0, 360).
inline double wrap_to_360_deg(double angle_deg) {
  const double turned = std::fmod(angle_deg, 360.0);
  return turned < 0.0 ? turned + 360.0 : turned;
}

/// The same direction in (-180, 180].
inline double wrap_to_180_deg(double angle_deg) {
  const double turned = wrap_to_360_deg(angle_deg);
  return turned > 180.0 ? turned - 360.0 : turned;
}

}  // namespace dullspell
