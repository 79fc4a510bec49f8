#include "engine/decisions/plan_comparison.hpp"

#include <cmath>
#include <utility>

namespace dullspell {

std::vector<ComparedPlan> compare_plans(std::vector<Plan> plans, const StudyOptions& options,
                                        const Progress& progress) {
  const OutcomeOptions each{options.stays, options.seed, options.threads, options.instruction_set,
                            Tracks::both};
  std::vector<ComparedPlan> out;
  for (Plan& plan : plans) {
    PreparedPlan prepared = prepare(plan);
    StudyResult result = run_study(prepared, options, progress);
    StayOutcomes outcomes = run_outcomes(prepared, each);
    Budget budget = expected_budget(prepared);
    out.push_back({std::move(plan), std::move(prepared), std::move(result), std::move(budget),
                   std::move(outcomes)});
  }
  return out;
}

PlanDifference plan_difference(const StayOutcomes& first, const StayOutcomes& second) {
  PlanDifference out;
  out.home = paired_difference(first.flat_home, second.flat_home, first.stays);
  if (first.has_generator() || second.has_generator()) {
    out.planned = paired_difference(first.flat_as_planned(), second.flat_as_planned(), first.stays);
  }
  if (first.has_generator() && second.has_generator()) {
    out.generator_h = mean_difference(first.generator_h, second.generator_h);
  }
  return out;
}

std::optional<double> stays_to_tell(const PairedDifference& difference, std::uint64_t stays) {
  constexpr double kChanceDeviate = 0.8416;  // standard normal, 80 % below it
  const double d = difference.difference;
  if (difference.only_first == difference.only_second) return std::nullopt;
  const double differing = static_cast<double>(difference.only_first + difference.only_second) /
                           static_cast<double>(stays);
  const double root = ConfidenceLevel{}.deviate() * std::sqrt(differing) +
                      kChanceDeviate * std::sqrt(differing - d * d);
  return root * root / (d * d);
}

}  // namespace dullspell
