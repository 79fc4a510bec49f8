#pragma once

#include <array>
#include <string_view>

namespace dullspell {

/// Built-in sites in whose records months contradict both the world grid and their neighbors; see
/// SiteDepartures::contradicts_neighbors(). Found by tests/calibration/blend.
inline constexpr std::array<std::string_view, 9> kContradictingSites{
    "bartlesville-ok", "cleveland-burke-lakefront-oh", "devils-lake-nd", "evanston-wy", "hailey-id",
    "jamestown-nd",    "mount-washington-nh",          "truckee-ca",     "watertown-sd"};

}  // namespace dullspell
