#pragma once

// No library header, as number.hpp says.

namespace dullspell {

/// The place of something in its table, of a type of its own: a day is never looked up among
/// segments. It comes from a whole number by itself, and becomes one only through `value`.
template <class Of>
struct Index {
  int value = 0;

  constexpr Index() = default;
  // NOLINTNEXTLINE(google-explicit-constructor): from a number by itself, as said above
  constexpr Index(int number) : value(number) {}

  friend constexpr bool operator==(Index a, Index b) { return a.value == b.value; }
  friend constexpr bool operator<(Index a, Index b) { return a.value < b.value; }
  friend constexpr bool operator>=(Index a, Index b) { return a.value >= b.value; }
};

/// A date of a stay, 0 the first that is simulated; -1 is the day before.
using DayIndex = Index<struct DaysOfStay>;

/// The part of one date that is spent at one camp.
using SegmentIndex = Index<struct SegmentsOfStay>;

/// A camp of the plan.
using CampIndex = Index<struct CampsOfPlan>;

}  // namespace dullspell
