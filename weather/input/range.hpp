#pragma once

#include <string_view>

namespace dullspell {

/// The unit of hours of use.
inline constexpr std::string_view kHoursUnit = "h";

/// Bounds of a number, both allowed, with the unit shown in messages. By the unit the number may be
/// typed in another way, too: a share (see below) as a percent, hours (kHoursUnit) as "2:30" or "45
/// min", see quantity_text.hpp; and what unit_twin.hpp lists in a US unit, under a key of its own.
struct Range {
  double low;
  double high;
  std::string_view unit = "";

  /// A number without a unit, from 0 to 1. What lies there and is no share has a unit.
  constexpr bool is_share() const { return unit.empty() && low >= 0.0 && high <= 1.0; }
};

}  // namespace dullspell
