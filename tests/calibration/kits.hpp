#pragma once

#include <array>
#include <string>

#include "engine/plan.hpp"

namespace dullspell::calibration {

/// A battery and an array in terms of the load and of the month's mean sun. All invented.
struct Kit {
  const char* name;
  double autonomy_days;  ///< usable energy over daily draw
  double sun_to_load;    ///< mean harvest of the month over daily draw
  double tilt_deg;       ///< towards the equator
};

constexpr std::array<Kit, 6> kKits{{
    {"small battery, even sun", 1.5, 1.1, 0.0},
    {"small battery, ample sun", 2.0, 1.5, 50.0},
    {"two nights and a half, little sun", 2.5, 0.9, 0.0},
    {"three days, fair sun", 3.0, 1.2, 50.0},
    {"four days, short of sun", 4.0, 0.8, 0.0},
    {"five days, even sun", 5.0, 1.0, 50.0},
}};

constexpr int kDays = 14;                             ///< of the longest stay
constexpr std::array<int, 4> kLengths{5, 7, 10, 14};  ///< days of the stays that are judged

/// A stay of kDays dates around the middle of a month (0..11): a steady 40 W day and night, the
/// battery indoors. `panels_w` are the panels' rated watts.
Plan kit_plan(const Place& place, const Kit& kit, int month, double panels_w);

/// Rated watts that give the kit its sun in that month, by the mean of the place's distribution.
double kit_panels_w(const Place& place, const Kit& kit, int month);

}  // namespace dullspell::calibration
