#pragma once

#include <vector>

#include "engine/stay/stay_calendar.hpp"
#include "engine/stay/stay_climate.hpp"

namespace dullspell {

/// A date whose sky is known, as the plan says it and as it is understood.
struct KnownDate {
  DayIndex day;
  Date date;
  KnownSky sky;
  StatedClearness stated;
  double k_median;  ///< of the draws: what is stated, unless the place's statistics end before it
};

/// The weather that a stay is drawn from.
struct StayWeather {
  ClimateOfStay climate;         ///< and its doubts; a segment for each camp day
  std::vector<KnownDate> known;  ///< in order; the day before the first date may be the first
};

StayWeather stay_weather(const Plan& plan, const StayCalendar& calendar);

}  // namespace dullspell
