#include "engine/decisions/risk_summary.hpp"

#include <numeric>
#include <vector>

#include "engine/climate_interval.hpp"
#include "engine/tally.hpp"

namespace dullspell {
namespace {

Interval climate_interval_of(const Proportion& share, const std::vector<ClimateCounts>& climates,
                             std::vector<std::uint32_t> ClimateCounts::*track) {
  std::vector<std::uint64_t> flat;
  for (const ClimateCounts& climate : climates) {
    const auto& by_day = climate.*track;
    flat.push_back(std::accumulate(by_day.begin(), by_day.end(), std::uint64_t{0}));
  }
  return climate_interval(share, flat, climates.front().stays);
}

}  // namespace

RiskSummary risk_summary(const PreparedPlan& plan, const OutcomeOptions& options) {
  const StayOutcomes outcomes = run_outcomes(plan, options);
  RiskSummary out;
  out.flat = Proportion(outcomes.count_home(), outcomes.stays);
  if (!outcomes.has_generator()) return out;
  Histogram hours = generator_hours_histogram(plan);
  FixedSum sum_h;
  for (const double h : outcomes.generator_h) {
    hours(h);
    sum_h += h;
  }
  GeneratorSummary& along = out.generator.emplace();
  along.flat = Proportion(outcomes.count_along(), outcomes.stays);
  along.hours_mean = sum_h.value() / static_cast<double>(outcomes.stays);
  along.hours_p90 = hours.quantile(0.90, true);
  return out;
}

void add_climate_intervals(RiskSummary& risk, const PreparedPlan& plan,
                           const OutcomeOptions& options) {
  const auto climates =
      run_climates(plan, options.seed, options.stays, options.threads, options.instruction_set);
  risk.flat_climate = climate_interval_of(risk.flat, climates, &ClimateCounts::home);
  if (!risk.generator) return;
  risk.generator->flat_climate =
      climate_interval_of(risk.generator->flat, climates, &ClimateCounts::along);
}

}  // namespace dullspell
