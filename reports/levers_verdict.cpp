#include "reports/levers_verdict.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "engine/plan/guarding_load.hpp"
#include "reports/cautions.hpp"
#include "reports/difference_text.hpp"
#include "reports/levers_tables.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

bool reaches(const LeverEffect& effect, double accepted) {
  return effect.flat.interval.high < accepted || effect.flat.count == 0;
}

// Which changes reach the accepted risk, in a sentence.
std::string enough_sentence(const LeversReport& report) {
  const double accepted = report.plan.accept_risk;
  const std::string accept = fmt::format("{:g} in 100", 100.0 * accepted);
  constexpr std::size_t kNamed = 3;
  std::vector<std::string> names;
  std::size_t count = 0;
  for (const LeverEffect& effect : report.study.effects) {
    if (!reaches(effect, accepted)) continue;
    if (++count <= kNamed) names.push_back(effect.lever.change);
  }
  if (report.study.base.home.flat.interval.high < accepted) {
    return fmt::format(" The plan as it is keeps within the {} that you accept.", accept);
  }
  if (count == 0)
    return fmt::format(" No single change brings it down to the {} that you accept.", accept);
  if (count > kNamed) {
    return fmt::format(" Any one of {} changes brings it down to the {} that you accept.", count,
                       accept);
  }
  return fmt::format(" {} brings it down to the {} that you accept: {}.",
                     count == 1 ? "One change alone" : "Any one of these", accept,
                     fmt::join(names, "; "));
}

bool has_lever(const LeversReport& report, LeverKind kind) {
  return std::any_of(report.study.effects.begin(), report.study.effects.end(),
                     [=](const LeverEffect& effect) { return effect.lever.kind == kind; });
}

}  // namespace

std::vector<std::string> levers_notes(const LeversReport& report) {
  std::vector<std::string> out{
      "Every change meets the same simulated weather, stay by stay, so that small differences "
      "show; their interval covers only chance among the simulated stays. Changes that could make "
      "no difference are "
      "left out. Points of several changes do not add up: put them into a plan and compare."};
  if (has_lever(report, LeverKind::panels_tilted)) {
    out.push_back(
        "Tilted panels face the noon sun of the middle of the stay, 10° to 75° from flat.");
  }
  if (has_lever(report, LeverKind::panels_turned)) {
    out.push_back(
        "Panels turned by hand face the sun at those times, about 8, 11 and 14 by the sun, and "
        "are turned back at dusk; those fixed to a roof count as well.");
  }
  std::vector<std::string> guards;
  for (const Load& load : report.plan.loads) {
    if (guards_people(load.name)) guards.push_back(load.name);
  }
  if (!guards.empty()) {
    out.push_back(
        fmt::format("Safety and medical loads are left alone: {}.", fmt::join(guards, "; ")));
  }
  if (has_lever(report, LeverKind::generator_hour)) {
    out.push_back(
        "The generator's hour counts with the generator along, started every day at 17:00 unless "
        "the battery is full.");
  }
  const auto rest = report_notes(RunReport{report.plan, report.prepared, report.study.base,
                                           report.budget, nullptr, nullptr, report.units});
  out.insert(out.end(), rest.begin(), rest.end());
  return out;
}

std::vector<std::string> levers_cautions(const LeversReport& report) {
  std::vector<std::string> out{
      "A load is listed for what it takes, not as advice to go without: alarms for gas, smoke and "
      "carbon monoxide and medical devices stay on."};
  Plan kit = report.plan;
  for (const LeverEffect& effect : report.study.effects) {
    // The hour of a generator that the plan does not have needs its warnings too.
    if (effect.lever.with_generator()) kit.generator = effect.lever.plan.generator;
  }
  const auto rest = report_cautions(kit);
  out.insert(out.end(), rest.begin(), rest.end());
  return out;
}

std::string levers_verdict(const LeversReport& report) {
  const Proportion& flat = report.study.base.home.flat;
  const std::string base =
      report.study.base.generator ? "With the " + generator_unused(report.plan) + " t" : "T";
  if (flat.count == 0) {
    return fmt::format("{}he battery runs flat in none of {} stays: there is nothing to take off.",
                       base, grouped(flat.trials));
  }
  const std::vector<const LeverEffect*> effects = grouped_effects(report);
  std::string own_generator;
  if (report.study.base.generator) {
    own_generator =
        fmt::format(" With its generator along, run as planned, the plan runs flat in {}.",
                    in_words(report.study.base.generator->risk.flat));
  }
  if (effects.empty() || help_of(*effects.front()) != Help::helps) {
    return fmt::format(
               "{}he battery runs flat in {} ({}), and {} stays show no single change that clearly "
               "helps.",
               base, in_words(flat), percent_interval(flat), grouped(flat.trials)) +
           own_generator;
  }
  const LeverEffect& best = *effects.front();
  if (!best.difference.is_clear()) {
    return fmt::format(
               "No single change takes the risk off: {} of stays run flat all the same. {} cuts "
               "the hours flat from {:.1f} to {:.1f} a stay.",
               percent(flat), best.lever.doing, report.study.base.home.flat_h.mean, best.flat_h) +
           own_generator;
  }
  std::string text = fmt::format("{0} cuts the risk by {1}, from {2} to {3}.", best.lever.doing,
                                 points(best.difference), percent(flat), percent(best.flat));
  text += fmt::format(
      " Allowing for gaps in the weather record, anywhere from {} points.",
      replaced(points_range({-best.difference_climate.high, -best.difference_climate.low}), "–",
               " to "));
  if (effects.size() > 1 && help_of(*effects[1]) == Help::helps) {
    text += fmt::format(" Next best: {} ({} points).", effects[1]->lever.change,
                        signed_points(effects[1]->difference));
  }
  return text + enough_sentence(report) + own_generator;
}

}  // namespace dullspell
