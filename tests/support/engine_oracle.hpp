#pragma once

#include <cmath>
#include <cstdint>
#include <ostream>

#include <catch2/catch.hpp>

#include "weather/random_stream.hpp"

namespace dullspell {

/// A share counted over independent stays against an exact probability, in standard errors of the
/// exact one (and of the reference, where that is itself a simulation).
struct CountedShare {
  double count, trials;

  double errors_from(double exact, double exact_error = 0.0) const {
    const double variance = exact * (1.0 - exact) / trials + exact_error * exact_error;
    const double apart = std::abs(count / trials - exact);
    return variance > 0.0 ? apart / std::sqrt(variance) : apart > 0.0 ? INFINITY : 0.0;
  }
};

/// Chance that one honest comparison at 4 standard errors fails: 6.3e-5. Seeds are fixed, so a test
/// passes for ever or never.
constexpr double kMostErrors = 4.0;

/// Uniform in (0, 1) of one day of a test's stay.
inline double test_uniform(std::uint64_t seed, std::uint32_t stay, std::uint32_t day) {
  RandomStream stream({seed, stay, day, DrawPurpose::test});
  return (stream() + 0.5) / 4294967296.0;
}

}  // namespace dullspell
