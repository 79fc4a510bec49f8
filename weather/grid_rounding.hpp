#pragma once

#include <cmath>

namespace dullspell {

/// The nearest multiple of 2^-16. Every number prepared for the hourly loop passes through here, so
/// that a last-bit difference between maths libraries cannot reach a result.
inline double on_grid(double value) {
  return std::nearbyint(value * 65536.0) / 65536.0;
}

}  // namespace dullspell
