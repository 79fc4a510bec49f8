#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "engine/statistics/paired_difference.hpp"
#include "engine/study/budget.hpp"
#include "engine/study/stay_outcomes.hpp"
#include "engine/study/study.hpp"

namespace dullspell {

/// What one plan changes against another on the same draws, second minus first.
struct PlanDifference {
  PairedDifference home;  ///< generators left at home
  /// Each as it is written, with its generator if it has one; none if neither has.
  std::optional<PairedDifference> planned;
  std::optional<MeanDifference> generator_h;  ///< a stay, by rule; none unless both have one
};

/// A plan beside others.
struct ComparedPlan {
  Plan plan;
  PreparedPlan prepared;
  StudyResult result;
  Budget budget;
  StayOutcomes outcomes;
  std::vector<double> climates_home;     ///< flat_by_climate()
  std::vector<double> climates_planned;  ///< along where it has a generator
};

/// Runs each plan on stays 0 .. stays - 1 of the same seed. `options.precision` must be none.
std::vector<ComparedPlan> compare_plans(std::vector<Plan> plans, const StudyOptions& options,
                                        const Progress& progress = {});

/// Of outcomes of equally many stays, at least 2, of one seed.
PlanDifference plan_difference(const StayOutcomes& first, const StayOutcomes& second);

/// Both begin at the same hour and spend their nights at the same places, as far as both last.
bool same_dates(const PreparedPlan& a, const PreparedPlan& b);
bool same_places(const Plan& a, const Plan& b);

/// 95 % interval of a difference for what the places' records cannot tell, sampling included; none
/// where dates or places differ, whose doubts differ too.
struct DifferenceClimate {
  Interval home;
  Interval planned;  ///< as PlanDifference::planned; that of home if neither has a generator
};
std::optional<DifferenceClimate> difference_climate(const ComparedPlan& first,
                                                    const ComparedPlan& second);

/// How many stays would show a difference as large as the one found with a chance of 80 %: Connor
/// 1987, Biometrics 43:207, two-sided at 5 %. None where nothing was found: no number can be named.
std::optional<double> stays_to_tell(const PairedDifference& difference, std::uint64_t stays);

}  // namespace dullspell
