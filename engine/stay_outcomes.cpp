#include "engine/stay_outcomes.hpp"

#include <algorithm>
#include <bit>
#include <numeric>
#include <optional>

#include "engine/kernel/block_runner.hpp"
#include "engine/parallel.hpp"

namespace dullspell {
namespace {

constexpr std::uint64_t kGrain = 1024;  // stays, a multiple of the block

std::uint64_t count(const std::vector<std::uint64_t>& bits) {
  return std::accumulate(
      bits.begin(), bits.end(), std::uint64_t{0},
      [](std::uint64_t sum, std::uint64_t word) { return sum + std::popcount(word); });
}

}  // namespace

std::uint64_t StayOutcomes::count_home() const {
  return count(flat_home);
}

std::uint64_t StayOutcomes::count_along() const {
  return count(flat_along);
}

StayOutcomes run_outcomes(const PreparedPlan& plan, const OutcomeOptions& options) {
  return run_outcomes(plan, DrawnSky(plan, options.seed), options);
}

StayOutcomes run_outcomes(const PreparedPlan& plan, const Sky& sky, const OutcomeOptions& options) {
  std::optional<PreparedPlan> alone;
  if (options.tracks == Tracks::home && plan.generator) alone = without_generator(plan);
  const PreparedPlan& run = alone ? *alone : plan;
  const StayTables tables(run);
  const Kernel kernel = kernel_for(options.instruction_set);

  StayOutcomes out;
  out.stays = options.stays;
  const std::size_t blocks = (options.stays + kBlockStays - 1) / kBlockStays;
  out.flat_home.resize(blocks);
  if (run.generator) {
    out.flat_along.resize(blocks);
    out.generator_h.resize(options.stays);
  }
  for_each_range(options.stays, kGrain, options.threads, [&](std::size_t begin, std::size_t end) {
    BlockRunner runner(run, tables, sky, options.seed, kernel, BlockDetail::flat_only);
    for (std::size_t first = begin; first < end; first += kBlockStays) {
      const KernelResult& result = runner.run(static_cast<std::uint32_t>(first));
      const std::size_t stays = std::min<std::size_t>(end - first, kBlockStays);
      const std::uint64_t wanted = first_stays(static_cast<int>(stays));
      const std::size_t block = first / kBlockStays;
      out.flat_home[block] = runner.flat_at_home() & wanted;
      if (!run.generator) continue;
      out.flat_along[block] = runner.flat_along() & wanted;
      std::copy_n(result.along.generator_h, stays,
                  out.generator_h.begin() + static_cast<std::ptrdiff_t>(first));
    }
  });
  return out;
}

}  // namespace dullspell
