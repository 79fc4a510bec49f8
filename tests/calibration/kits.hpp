#pragma once

#include <array>

#include "engine/plan/plan.hpp"
#include "engine/stay/prepared_plan.hpp"

namespace dullspell::calibration {

/// A battery and an array in terms of the load and of the month's mean sun. All invented.
struct Kit {
  const char* name;
  double autonomy_days;  ///< usable energy over daily draw
  double sun_to_load;    ///< mean harvest of the month over daily draw
  bool tilted;           ///< by 50 degrees towards the equator; else flat
};

constexpr std::array<Kit, 6> kKits{{
    {"1.5 days, sun 1.1 x load", 1.5, 1.1, false},
    {"2 days, sun 1.5 x load", 2.0, 1.5, true},
    {"2.5 days, sun 0.9 x load", 2.5, 0.9, false},
    {"3 days, sun 1.2 x load", 3.0, 1.2, true},
    {"4 days, sun 0.8 x load", 4.0, 0.8, false},
    {"5 days, sun 1.0 x load", 5.0, 1.0, true},
}};

constexpr int kDays = 14;                             ///< of the longest stay
constexpr std::array<int, 4> kLengths{5, 7, 10, 14};  ///< days of the stays that are judged

/// Stays of kDays whole dates, a steady 40 W day and night and a battery indoors, for all kits
/// from one date on: panels and batteries are scaled from two prepared plans, flat and tilted.
class KitPlans {
 public:
  KitPlans(const Place& place, Date begin);

  /// `panels_w` are the rated watts of the kit's panels.
  PreparedPlan plan(const Kit& kit, double panels_w) const;

  /// Mean harvest a day of 1 W of the kit's panels, Wh, by the place's distribution.
  double harvest_wh_per_w(const Kit& kit) const;

 private:
  PreparedPlan flat_, tilted_;
};

/// Daily draw of the stays, Wh.
constexpr double kDraw_wh = 960.0;

}  // namespace dullspell::calibration
