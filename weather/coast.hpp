#pragma once

#include <string_view>
#include <vector>

#include "weather/solar_day.hpp"

namespace dullspell {

/// Outlines of land and of the lakes in it, 1:110 million: a coast may be off by tens of km, and
/// islands below some 100 km are missing.
class Coast {
 public:
  /// `rings`: lines of points "longitude,latitude", in hundredths of a degree and a blank apart,
  /// each line a closed ring that is cut at the date line; lines that begin with '#' are
  /// comments. It must be good.
  explicit Coast(std::string_view rings);

  /// The outlines that the program carries.
  static const Coast& built_in();

  const std::vector<std::vector<Coordinates>>& rings() const { return rings_; }

  /// Whether the place lies within an odd number of rings.
  bool is_land(const Coordinates& where) const;

 private:
  std::vector<std::vector<Coordinates>> rings_;
};

}  // namespace dullspell
