#pragma once

// The arithmetic of an hour is written once, for one stay (double) or for a pack of stays side by
// side. No library header, as always_inline.hpp says: this file is compiled for several instruction
// sets.

#include "weather/always_inline.hpp"

namespace dullspell {

/// What a kind of number brings beside its operators: a pack of stays specialises it beside its
/// registers (kernel/pack.hpp).
template <class N>
struct NumberTraits;

template <>
struct NumberTraits<double> {
  using Mask = bool;

  static FORCE_INLINE double all(double v) { return v; }
  static FORCE_INLINE double larger(double a, double b) { return a < b ? b : a; }
  static FORCE_INLINE double smaller(double a, double b) { return b < a ? b : a; }
  static FORCE_INLINE double select(bool mask, double a, double b) { return mask ? a : b; }
  static FORCE_INLINE bool any(bool mask) { return mask; }
};

template <class N>
using MaskOf = typename NumberTraits<N>::Mask;

/// The same value for every stay.
template <class N>
FORCE_INLINE N all(double v) {
  return NumberTraits<N>::all(v);
}

/// As std::max and std::min, the first of equals included.
template <class N>
FORCE_INLINE N larger(N a, N b) {
  return NumberTraits<N>::larger(a, b);
}
template <class N>
FORCE_INLINE N smaller(N a, N b) {
  return NumberTraits<N>::smaller(a, b);
}

template <class N>
FORCE_INLINE N clamped(N v, N low, N high) {
  return smaller(larger(v, low), high);
}

/// `a` where the mask holds, else `b`.
template <class N>
FORCE_INLINE N select(MaskOf<N> mask, N a, N b) {
  return NumberTraits<N>::select(mask, a, b);
}

/// Whether the mask holds for any stay.
template <class N>
FORCE_INLINE bool any(MaskOf<N> mask) {
  return NumberTraits<N>::any(mask);
}

constexpr double kInfinite = __builtin_inf();

}  // namespace dullspell
