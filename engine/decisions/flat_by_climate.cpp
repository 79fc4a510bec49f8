#include "engine/decisions/flat_by_climate.hpp"

#include <cstdint>
#include <numeric>
#include <optional>

#include "engine/climate_interval.hpp"

namespace dullspell {

std::vector<double> flat_by_climate(const PreparedPlan& plan, Track track,
                                    const StudyOptions& options) {
  // Without its generator a plan has one track, which halves the work.
  std::optional<PreparedPlan> alone;
  if (track == Track::home && plan.generator) {
    alone = plan;
    alone->generator.reset();
    for (HourSlot& slot : alone->hours) slot.generator_allowed = 0.0;
  }
  std::vector<double> out;
  for (const ClimateCounts& counts :
       run_climates(alone ? *alone : plan, options.seed, options.stays, options.threads,
                    options.instruction_set)) {
    const auto& by_day = track == Track::along ? counts.along : counts.home;
    const auto flat = std::accumulate(by_day.begin(), by_day.end(), std::uint64_t{0});
    out.push_back(static_cast<double>(flat) / static_cast<double>(counts.stays));
  }
  return out;
}

}  // namespace dullspell
