#pragma once

#include <optional>

#include "engine/statistics/interval.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/study/stay_outcomes.hpp"

namespace dullspell {

/// What a generator along would have to do, and what risk it leaves.
struct GeneratorSummary {
  Proportion flat;
  std::optional<Interval> flat_climate;
  double hours_mean = 0.0;  ///< run by its rule, a stay
  double hours_p90 = 0.0;
  double flat_h = 0.0;  ///< mean hours flat of a stay
};

/// The risk of one of many plans that are asked about at once; the figures are those of run_study.
struct RiskSummary {
  Proportion flat;  ///< generator left at home
  std::optional<Interval> flat_climate;
  std::optional<GeneratorSummary> generator;
  double flat_h = 0.0;  ///< mean hours flat of a stay, generator left at home

  /// With the generator, if the plan brings one.
  const Proportion& flat_as_planned() const { return generator ? generator->flat : flat; }
};

/// Climate intervals are left out.
RiskSummary risk_summary(const PreparedPlan& plan, const OutcomeOptions& options);

/// Costs two to three times the stays that the summary took.
void add_climate_intervals(RiskSummary& risk, const PreparedPlan& plan,
                           const OutcomeOptions& options);

}  // namespace dullspell
