#pragma once

#include <cstdint>
#include <istream>
#include <ostream>

#include <boost/random/uniform_int_distribution.hpp>

namespace dullspell {

/// Two independent draws of N(0, 1).
struct NormalPair {
  double first;
  double second;
};

/// Box–Muller transform of two uniforms given as 53-bit integers in [0, 2^53):
/// r = sqrt(-2 ln u), u = (a + 1) / 2^53 in (0, 1]; angle 2 pi b / 2^53; first = r cos, second = r
/// sin. Logarithm, sine and cosine are polynomials of our own (relative error below 4e-16), so that
/// the bits depend neither on the maths library nor on the instruction set. |value| <= 8.6.
NormalPair normal_pair_from_bits(std::uint64_t a, std::uint64_t b);

/// Boost.Random distribution of NormalPair; works with any Boost engine. With a RandomStream, one
/// call uses exactly one block of four words.
class StandardNormalPair {
 public:
  using input_type = std::uint32_t;
  using result_type = NormalPair;

  /// The distribution has no parameters; the type is there since the concept asks for it.
  struct param_type {
    using distribution_type = StandardNormalPair;
    friend bool operator==(const param_type&, const param_type&) { return true; }
    friend bool operator!=(const param_type&, const param_type&) { return false; }
  };

  StandardNormalPair() = default;
  explicit StandardNormalPair(const param_type&) {}

  template <class Engine>
  result_type operator()(Engine& engine) const {
    const std::uint64_t a = bits53(engine);
    const std::uint64_t b = bits53(engine);
    return normal_pair_from_bits(a, b);
  }

  void reset() {}
  param_type param() const { return {}; }
  void param(const param_type&) {}

  friend bool operator==(const StandardNormalPair&, const StandardNormalPair&) { return true; }
  friend bool operator!=(const StandardNormalPair&, const StandardNormalPair&) { return false; }

 private:
  template <class Engine>
  static std::uint64_t bits53(Engine& engine) {
    boost::random::uniform_int_distribution<std::uint32_t> word;
    const std::uint64_t high = word(engine) >> 5;
    const std::uint64_t low = word(engine) >> 6;
    return (high << 26) | low;
  }
};

}  // namespace dullspell
