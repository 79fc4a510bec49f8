#pragma once

#include <string>
#include <vector>

#include "engine/stay/prepared_plan.hpp"

namespace dullspell {

/// One use of energy on an average day of the stay.
struct BudgetLine {
  enum class Kind { load, furnace, fridge, standby, loss };
  std::string name;
  Kind kind = Kind::load;
  double wh_per_day = 0.0;
};

/// What an average day at one camp uses and brings in, drives to it included.
struct CampBalance {
  CampIndex camp;
  double days = 0.0;  ///< of 24 hours
  double draw_wh_per_day = 0.0;
  double panels_wh_per_day = 0.0;
  double vehicle_wh_per_day = 0.0;
};

/// What a date of the stay brings and uses if its sky is as stated, from its first hour of the stay
/// to its last: on the day of arrival, or now, less than a whole day.
struct ForecastBalance {
  Date date{};
  double draw_wh = 0.0;
  double panels_wh = 0.0;  ///< offered, whether or not the battery has room
  double panels_low_wh = 0.0, panels_high_wh = 0.0;  ///< with the clearness a spread lower, higher
  double vehicle_wh = 0.0;
};

/// Where the watt-hours go on an average day: the mean over the places' distributions of clearness
/// at month-mean temperature on the stay's dates. No weather is drawn.
struct Budget {
  std::vector<BudgetLine> lines;
  std::vector<CampBalance> camps;         ///< in the order of the stay
  std::vector<ForecastBalance> forecast;  ///< of each known date from the first one on, in order
  double draw_wh_per_day = 0.0;           ///< all lines together
  double panels_wh_per_day = 0.0;         ///< offered, whether or not the battery has room
  double panels_dull_wh_per_day = 0.0;    ///< on the dullest day in ten
  double panels_clear_wh_per_day = 0.0;   ///< on the clearest day in ten
  double vehicle_wh_per_day = 0.0;
  double shade_wh_per_day = 0.0;  ///< what trees and skylines keep from the panels, if it was asked
  double usable_wh = 0.0;         ///< of the full battery at 25 C, at its terminals
  double days_of_autonomy = 0.0;  ///< usable energy over mean daily draw
};

Budget expected_budget(const PreparedPlan& plan);

/// The same with what shade takes. `prepared` is prepare_stay(plan).
Budget budget_with_shade(const Plan& plan, const PreparedPlan& prepared);

/// What the controllers' limits take from the harvest that the plan expects, as a share; `budget`
/// is its expected_budget().
double share_cut_by_limits(const PreparedPlan& plan, const Budget& budget);

}  // namespace dullspell
