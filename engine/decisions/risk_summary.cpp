#include "engine/decisions/risk_summary.hpp"

#include "engine/study/climate_interval.hpp"
#include "engine/study/tally.hpp"

namespace dullspell {
RiskSummary risk_summary(const PreparedPlan& plan, const OutcomeOptions& options) {
  const StayOutcomes outcomes = run_outcomes(plan, options);
  RiskSummary out;
  out.flat = Proportion(outcomes.count_home(), outcomes.stays);
  out.flat_h = outcomes.flat_h_mean_home();
  if (!outcomes.has_generator()) return out;
  Histogram hours = generator_hours_histogram(plan);
  FixedSum sum_h;
  for (const double h : outcomes.generator_h) {
    hours(h);
    sum_h += h;
  }
  GeneratorSummary& along = out.generator.emplace();
  along.flat = Proportion(outcomes.count_along(), outcomes.stays);
  along.flat_h = outcomes.flat_h_mean_along();
  along.hours_mean = sum_h.value() / static_cast<double>(outcomes.stays);
  along.hours_p90 = hours.quantile(0.90, true);
  return out;
}

void add_climate_intervals(RiskSummary& risk, const PreparedPlan& plan,
                           const OutcomeOptions& options) {
  const auto climates =
      run_climates(plan, options.seed, options.stays, options.threads, options.instruction_set);
  const auto interval = [&](const Proportion& share, auto track) {
    return climate_interval(share, flat_stays(climates, track), climates.front().stays);
  };
  risk.flat_climate = interval(risk.flat, &ClimateCounts::home);
  if (!risk.generator) return;
  risk.generator->flat_climate = interval(risk.generator->flat, &ClimateCounts::along);
}

}  // namespace dullspell
