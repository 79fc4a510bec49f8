#include "engine/decisions/generator_schedule.hpp"

#include <algorithm>
#include <numeric>
#include <stdexcept>

#include "engine/stay/sky.hpp"
#include "engine/study/night_rule.hpp"
#include "engine/study/parallel.hpp"
#include "engine/study/prepare.hpp"
#include "engine/study/stay_outcomes.hpp"

namespace dullspell {
namespace {

constexpr std::uint64_t kMostStaysEach = 4'096;

RuleOutcome outcome_of(const PreparedPlan& prepared, const OutcomeOptions& options) {
  const StayOutcomes outcomes = run_outcomes(prepared, options);
  const double hours =
      std::accumulate(outcomes.generator_h.begin(), outcomes.generator_h.end(), 0.0);
  return {Proportion(outcomes.count_along(), outcomes.stays), outcomes.flat_h_mean_along(),
          hours / static_cast<double>(outcomes.stays)};
}

std::vector<PlainRule> plain_rules() {
  std::vector<PlainRule> rules;
  for (int start = 5; start <= 85; start += 10) {
    for (int stop = start + 10; stop <= 95; stop += 10) {
      PlainRule rule;
      rule.start_below = start / 100.0;
      rule.stop_at = stop / 100.0;
      rules.push_back(rule);
    }
  }
  return rules;
}

void follow(const PlainRule& rule, PreparedPlan& prepared) {
  prepared.generator->rule = GeneratorRule::below;
  prepared.generator->start_below = rule.start_below;
  prepared.generator->stop_at = rule.stop_at;
  set_generator_rule(prepared);
}

std::optional<PlainRule> best_of(const std::vector<PlainRule>& rules, double accepted) {
  std::optional<PlainRule> best;
  for (const PlainRule& rule : rules) {
    if (rule.flat.interval.high <= accepted && (!best || rule.hours < best->hours)) best = rule;
  }
  return best;
}

}  // namespace

GeneratorSchedule generator_schedule(const PreparedPlan& prepared, const StudyOptions& options,
                                     const Progress& progress) {
  if (!prepared.generator) throw std::invalid_argument("a schedule needs a generator");
  GeneratorSchedule out;
  out.result = run_study(prepared, options, progress);

  OutcomeOptions each{std::min(options.stays, kMostStaysEach), options.seed, 1,
                      options.instruction_set, Tracks::both};
  // On weather of their own, as the plan's rule night was found.
  const DrawnSky learned(prepared, options.seed + 1);
  const NightRules rules(prepared, learned);
  for (const double share : NightRules::shares()) {
    CarefulRule rule;
    rule.lasts_in = share;
    out.careful.push_back(rule);
  }
  std::vector<PlainRule> plain = plain_rules();
  PartsDone done(progress, "rules", out.careful.size() + plain.size());
  for_each_range(out.careful.size() + plain.size(), 1, options.threads,
                 [&](std::size_t i, std::size_t) {
                   PreparedPlan tried = prepared;
                   if (i < out.careful.size()) {
                     CarefulRule& rule = out.careful[i];
                     follow(rules.lasting_in(rule.lasts_in), tried);
                     static_cast<RuleOutcome&>(rule) = outcome_of(tried, each);
                   } else {
                     PlainRule& rule = plain[i - out.careful.size()];
                     follow(rule, tried);
                     static_cast<RuleOutcome&>(rule) = outcome_of(tried, each);
                   }
                   done.add();
                 });
  out.plain = best_of(plain, prepared.accept_risk);
  return out;
}

}  // namespace dullspell
