#include "engine/study/stay_outcomes.hpp"

#include <algorithm>
#include <bit>
#include <numeric>
#include <optional>

#include "engine/study/block_pass.hpp"

namespace dullspell {
namespace {

constexpr std::uint32_t kGrain = 1024;

std::uint64_t count(const std::vector<std::uint64_t>& bits) {
  return std::accumulate(
      bits.begin(), bits.end(), std::uint64_t{0},
      [](std::uint64_t sum, std::uint64_t word) { return sum + std::popcount(word); });
}

// Outcomes of different blocks lie apart: workers share them.
struct Worker {
  BlockRunner blocks;
  const Sky& sky;
  StayOutcomes& out;

  void run_block(const BlockPart&, std::uint32_t first, int stays) {
    out.take(blocks, blocks.run(sky, first), first, stays);
  }
};

}  // namespace

std::uint64_t StayOutcomes::count_home() const {
  return count(flat_home);
}

std::uint64_t StayOutcomes::count_along() const {
  return count(flat_along);
}

StayOutcomes::StayOutcomes(std::uint64_t of_stays, Tracks tracks) {
  resize(of_stays, tracks);
}

void StayOutcomes::resize(std::uint64_t of_stays, Tracks tracks) {
  stays = of_stays;
  const std::size_t blocks = (stays + kBlockStays - 1) / kBlockStays;
  flat_home.resize(blocks);
  if (tracks == Tracks::home) return;
  flat_along.resize(blocks);
  generator_h.resize(stays);
}

void StayOutcomes::take(const BlockRunner& runner, const KernelResult& result, std::uint32_t first,
                        int count) {
  const std::uint64_t wanted = first_stays(count);
  const std::size_t block = first / kBlockStays;
  flat_home[block] = runner.flat_at_home() & wanted;
  if (!has_generator()) return;
  flat_along[block] = runner.flat_along() & wanted;
  std::copy_n(result.along.generator_h, count, generator_h.begin() + first);
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
  StayOutcomes out(options.stays, run.generator ? Tracks::both : Tracks::home);
  const auto make = [&] {
    return Worker{BlockRunner(run, tables, options.seed, kernel, BlockDetail::flat_only), sky, out};
  };
  run_parts<Worker>(block_parts(1, 0, options.stays, kGrain), options.threads, make,
                    [](const Worker&, const BlockPart&) {});
  return out;
}

}  // namespace dullspell
