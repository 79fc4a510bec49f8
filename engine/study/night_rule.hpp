#pragma once

#include <span>
#include <vector>

#include "engine/stay/prepared_plan.hpp"
#include "engine/stay/sky.hpp"

namespace dullspell {

/// When a generator runs in one hour that allows it, Wh stored: it starts where less is stored as
/// the hour begins, and then runs as long as makes the hour end with so much stored.
struct GeneratorLevels {
  double start_below_wh, stop_at_wh;
};

/// Levels by hour of the stay; those of hours that allow no generator say nothing.
using GeneratorRuleByHour = std::vector<GeneratorLevels>;

/// Has the plan's generator run so.
void follow(const GeneratorRuleByHour& rule, PreparedPlan& prepared);

/// What simulated stays of a plan need in each hour that allows its generator, and the rules that
/// follow. In each such hour the generator may wait as long as what is stored lasts, in a share of
/// the stays, although it rests in this hour and runs only from the next one on; once it runs, it
/// runs until what is stored lasts, in as many stays, with the generator resting for the rest of
/// the window. So it starts late, gives the sun its chance, and stops when the next window is in
/// reach. Where even a full battery may not last in so many stays, it shall in as many as it can;
/// where in none of those worth a try, it is filled as far as it takes a charge at a good rate.
class NightRules {
 public:
  /// Shares of stays that are worth a try, in order, the last of them 1.
  static std::span<const double> shares();

  /// Learns from 1,024 stays under a sky: `sky` gives them by their numbers from 0 on.
  NightRules(const PreparedPlan& prepared, const Sky& sky);

  /// Levels that last in one of shares() of the stays, and the plan's margin on top.
  GeneratorRuleByHour lasting_in(double share) const { return lasting_in(share, margin_wh_); }
  GeneratorRuleByHour lasting_in(double share, double margin_wh) const;

 private:
  // What stays need, most first, as far as the least share asks; a row for each hour that allows a
  // generator.
  struct Needs {
    std::size_t hour;
    std::vector<float> resting_wh, after_wh;
  };

  void learn(const PreparedPlan& prepared, const Sky& sky);

  std::size_t hours_;
  double usable_wh_, top_wh_, margin_wh_;
  std::vector<Needs> needs_;
};

/// Rule `night`: as a careful person runs a generator who knows the place's weather, but not what
/// will come. It is the one of NightRules that lasts in the least share of stays with which the
/// plan's accepted risk is kept, shown on other stays than those that it was learned from; in all
/// of them if no share does. The plan's margin comes on top, for loads that are larger than listed:
/// the weather's risk is kept without it. All those stays are the rule's own: none that a study
/// runs. A pure function of the plan.
GeneratorRuleByHour night_rule(const PreparedPlan& prepared);

/// The same with weather from elsewhere: stays 0 to 2,047 of a sky.
GeneratorRuleByHour night_rule(const PreparedPlan& prepared, const Sky& sky);

}  // namespace dullspell
