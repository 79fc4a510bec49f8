#include "engine/decisions/flat_by_climate.hpp"

#include <cstdint>

#include "engine/study/climate_interval.hpp"

namespace dullspell {

FlatByClimate flat_by_climate(const PreparedPlan& plan, const StudyOptions& options) {
  return flat_by_climate(
      run_climates(plan, options.seed, options.stays, options.threads, options.instruction_set));
}

FlatByClimate flat_by_climate(const std::vector<ClimateCounts>& climates) {
  const auto shares = [&](auto track) {
    std::vector<double> out;
    for (const std::uint64_t flat : flat_stays(climates, track)) {
      out.push_back(static_cast<double>(flat) / static_cast<double>(climates.front().stays));
    }
    return out;
  };
  return {shares(&ClimateCounts::home), shares(&ClimateCounts::along)};
}

}  // namespace dullspell
