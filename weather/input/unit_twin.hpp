#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "weather/input/range.hpp"
#include "weather/us_units.hpp"

namespace dullspell {

/// A key in a US unit beside a metric one: elevation_ft, where elevation_m is known.
struct UnitTwin {
  std::string key;
  std::string_view metric_unit;  ///< as ranges name it: "m"
  std::string_view us_unit;      ///< as messages name it: "ft"
  UsUnit unit;

  /// A range of the metric key as messages show it to who types the twin. Bounds are rounded
  /// inward, to three digits or to whole numbers, so that each may be typed.
  Range shown(const Range& metric) const;
};

/// The twin of a key whose range is in `metric_unit`; nothing where the key does not name its unit,
/// or people in the US think in it as well. By the range's unit, watts of heat ("W of heat") have a
/// twin where electric ones ("W") have none, and a difference of temperature ("K") has one without
/// the offset of a temperature ("C").
std::optional<UnitTwin> unit_twin(std::string_view key, std::string_view metric_unit);

}  // namespace dullspell
