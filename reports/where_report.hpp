#pragma once

#include <cstddef>

#include "engine/decisions/place_survey.hpp"
#include "reports/number_text.hpp"
#include "weather/place_filter.hpp"

namespace dullspell {

/// Everything that a report of `dullspell where` is made from.
struct WhereReport {
  const Plan& plan;
  const RiskSummary& as_planned;  ///< at the plan's own camps
  const PlaceFilter& filter;
  const PlaceSurvey& survey;
  std::size_t top = 0;  ///< places to show to people
  const OutcomeOptions& options;
  Units units = Units::metric;  ///< of its texts
  double grid_deg = 0.0;        ///< step of the grid whose cells the places are; 0: they are sites
};

}  // namespace dullspell
