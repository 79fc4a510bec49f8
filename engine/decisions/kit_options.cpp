#include "engine/decisions/kit_options.hpp"

#include "engine/climate_interval.hpp"
#include "engine/decisions/size_search.hpp"
#include "engine/plan_edit.hpp"
#include "engine/sky.hpp"

namespace dullspell {
namespace {

std::vector<std::uint64_t> flat_by_climate(const PreparedPlan& plan, const SizeOptions& options) {
  std::vector<std::uint64_t> flat;
  for (const ClimateCounts& counts :
       run_climates(plan, options.seed, options.stays, options.threads, options.instruction_set)) {
    std::uint64_t sum = 0;
    for (const auto on_day : plan.generator ? counts.along : counts.home) sum += on_day;
    flat.push_back(sum);
  }
  return flat;
}

}  // namespace

std::vector<OptionRisk> judge_options(const Plan& plan, const SizeQuestion& question,
                                      const SizeOptions& options) {
  const std::uint64_t allowed = flat_target(question.accept_risk, options.stays).allowed;
  std::vector<OptionRisk> out;
  for (const KitOption& option : plan.options) {
    Plan kit = with_option(plan, option);
    if (!question.with_generator) kit.generator.reset();
    const PreparedPlan prepared = prepare(kit);
    const std::uint64_t flat = flat_stays(prepared, DrawnSky(prepared, options.seed), options);
    const Proportion share(flat, options.stays);
    out.push_back(
        {option, share,
         climate_interval(share, flat_by_climate(prepared, options), climate_stays(options.stays)),
         flat <= allowed});
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
