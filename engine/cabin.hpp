#pragma once

#include "engine/prepared_plan.hpp"

namespace dullspell {

/// A cabin without a furnace is lived in all the same, and never colder.
constexpr double kLivedIn_c = 15.0;

/// What the outdoor temperature of one hour means inside.
struct CabinHour {
  double furnace_w;   ///< blower, averaged over the hour
  double fridge_w;    ///< averaged over the hour
  double held_c;      ///< cabin with the furnace working
  double drifting_c;  ///< cabin if the furnace has no power
};

/// Furnace duty = (heat loss to the outdoors at the set-point - gains) / output, 0..1. Outside its
/// windows the cabin is at `other_heat_c`, else gains / heat loss above the outdoors; a set-point
/// never cools. Without a furnace the cabin is kept at kLivedIn_c or warmer by other means.
CabinHour cabin_hour(const PreparedPlan& prepared, int hour_of_day, double air_c);

/// Temperature of the battery's cells; `powerless` when the furnace had no power the hour before.
double battery_temperature_c(const PreparedPlan& prepared, const CabinHour& cabin, double air_c,
                             bool powerless);

}  // namespace dullspell
