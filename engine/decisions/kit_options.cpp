#include "engine/decisions/kit_options.hpp"

#include "engine/decisions/size_search.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/stay/sky.hpp"
#include "engine/study/climate_interval.hpp"
#include "engine/study/prepare.hpp"

namespace dullspell {
std::vector<OptionRisk> judge_options(const Plan& plan, const SizeQuestion& question,
                                      const SizeOptions& options, const Progress& progress) {
  const std::uint64_t allowed = flat_target(question.accept_risk, options.stays).allowed;
  PartsDone done(progress, "options of the plan", plan.options.size());
  std::vector<OptionRisk> out;
  for (const KitOption& option : plan.options) {
    Plan kit = with_option(plan, option);
    if (!question.with_generator) kit.generator.reset();
    const PreparedPlan prepared = prepare(kit);
    const std::uint64_t flat = flat_stays(prepared, DrawnSky(prepared, options.seed), options);
    const Proportion share(flat, options.stays);
    const auto climates = run_climates(prepared, options.seed, options.stays, options.threads,
                                       options.instruction_set);
    const auto track = prepared.generator ? &ClimateCounts::along : &ClimateCounts::home;
    out.push_back({option, share,
                   climate_interval(share, flat_stays(climates, track), climates.front().stays),
                   flat <= allowed});
    done.add();
  }
  return out;
}

std::optional<std::size_t> least_of(const std::vector<OptionRisk>& options,
                                    std::optional<double> KitOption::*figure) {
  std::optional<std::size_t> least;
  for (std::size_t i = 0; i < options.size(); ++i) {
    const auto& value = options[i].option.*figure;
    if (!options[i].meets || !value) continue;
    if (!least || *value < *(options[*least].option.*figure)) least = i;
  }
  return least;
}

}  // namespace dullspell
