#pragma once

#include <optional>
#include <vector>

#include "engine/study/study.hpp"

namespace dullspell {

/// What a rule comes to, on the weather of all others.
struct RuleOutcome {
  Proportion flat;      ///< stays that fail with it
  double flat_h = 0.0;  ///< mean hours flat of a stay
  double hours = 0.0;   ///< mean hours that the generator runs in a stay
};

/// A rule that lasts in a share of simulated stays, see NightRules.
struct CarefulRule : RuleOutcome {
  double lasts_in = 0.0;
};

/// One state of charge to start below and one to stop at, in all allowed hours.
struct PlainRule : RuleOutcome {
  double start_below = 0.0, stop_at = 0.0;  ///< 0..1
};

/// When to run a generator, and what other rules would come to.
struct GeneratorSchedule {
  StudyResult result;                ///< of the plan by its own rule
  std::vector<CarefulRule> careful;  ///< less and more careful ones, in order
  /// The plain rule of the least hours that keeps the accepted risk; none if none does.
  std::optional<PlainRule> plain;
};

/// Runs a prepared plan that has a generator. `options.precision` must be none. Neither threads nor
/// the instruction set change the result. Throws std::invalid_argument without a generator.
GeneratorSchedule generator_schedule(const PreparedPlan& prepared, const StudyOptions& options,
                                     const Progress& progress = {});

}  // namespace dullspell
