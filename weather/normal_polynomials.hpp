#pragma once

#include "weather/always_inline.hpp"

namespace dullspell {

// Polynomials of our own for normal deviates, over one number or a pack of them: the bits depend
// neither on the maths library nor on the instruction set.

/// ln((1 + t) / (1 - t)) for |t| < 0.1716: the series to t^21 leaves less than 2e-17 relative.
template <class N>
FORCE_INLINE N log_of_ratio(N t) {
  const N s = t * t;
  N sum = s * (1.0 / 21.0) + 1.0 / 19.0;
  sum = sum * s + 1.0 / 17.0;
  sum = sum * s + 1.0 / 15.0;
  sum = sum * s + 1.0 / 13.0;
  sum = sum * s + 1.0 / 11.0;
  sum = sum * s + 1.0 / 9.0;
  sum = sum * s + 1.0 / 7.0;
  sum = sum * s + 1.0 / 5.0;
  sum = sum * s + 1.0 / 3.0;
  return 2.0 * t + 2.0 * t * s * sum;
}

/// Taylor series on [-pi/4, pi/4]: the first term left out is below 5e-17.
template <class N>
FORCE_INLINE N sine(N x) {
  const N s = x * x;
  N sum = s * (-1.0 / 1307674368000.0) + 1.0 / 6227020800.0;
  sum = sum * s - 1.0 / 39916800.0;
  sum = sum * s + 1.0 / 362880.0;
  sum = sum * s - 1.0 / 5040.0;
  sum = sum * s + 1.0 / 120.0;
  sum = sum * s - 1.0 / 6.0;
  return x + x * s * sum;
}

template <class N>
FORCE_INLINE N cosine(N x) {
  const N s = x * x;
  N sum = s * (1.0 / 20922789888000.0) - 1.0 / 87178291200.0;
  sum = sum * s + 1.0 / 479001600.0;
  sum = sum * s - 1.0 / 3628800.0;
  sum = sum * s + 1.0 / 40320.0;
  sum = sum * s - 1.0 / 720.0;
  sum = sum * s + 1.0 / 24.0;
  return 1.0 - 0.5 * s + s * s * sum;
}

}  // namespace dullspell
