#include "engine/study/stay_outcomes.hpp"

#include <algorithm>
#include <bit>
#include <limits>
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

double mean_of(const std::vector<std::uint32_t>& hours, std::uint64_t stays) {
  const auto sum = std::accumulate(hours.begin(), hours.end(), std::uint64_t{0});
  return static_cast<double>(sum) / static_cast<double>(stays);
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

double StayOutcomes::flat_h_mean_home() const {
  return mean_of(flat_h_home, stays);
}

double StayOutcomes::flat_h_mean_along() const {
  return mean_of(flat_h_along, stays);
}

StayOutcomes::StayOutcomes(std::uint64_t of_stays, Tracks tracks) {
  resize(of_stays, tracks);
}

void StayOutcomes::resize(std::uint64_t of_stays, Tracks tracks) {
  stays = of_stays;
  const std::size_t blocks = (stays + kBlockStays - 1) / kBlockStays;
  flat_home.resize(blocks);
  flat_h_home.resize(blocks);
  if (tracks == Tracks::home) return;
  flat_along.resize(blocks);
  flat_h_along.resize(blocks);
  generator_h.resize(stays);
}

void StayOutcomes::take(const BlockRunner& runner, const KernelResult& result, std::uint32_t first,
                        int count) {
  const std::uint64_t wanted = first_stays(count);
  const std::size_t block = first / kBlockStays;
  flat_home[block] = runner.failed_at_home() & wanted;
  flat_h_home[block] = static_cast<std::uint32_t>(runner.flat_hours_at_home(wanted));
  if (!has_generator()) return;
  flat_along[block] = runner.failed_along() & wanted;
  flat_h_along[block] = static_cast<std::uint32_t>(runner.flat_hours_along(wanted));
  std::copy_n(result.along.generator_h, count, generator_h.begin() + first);
}

MeanDifference flat_h_difference(const std::vector<std::uint32_t>& first,
                                 const std::vector<std::uint32_t>& second, std::uint64_t stays) {
  const double blocks_per_stay = static_cast<double>(first.size()) / static_cast<double>(stays);
  const std::vector<double> a(first.begin(), first.end()), b(second.begin(), second.end());
  if (a.size() < 2) {
    const double difference = (b.front() - a.front()) * blocks_per_stay;
    return {difference, {-std::numeric_limits<double>::max(), std::numeric_limits<double>::max()}};
  }
  MeanDifference out = mean_difference(a, b);
  out.difference *= blocks_per_stay;
  out.interval = {out.interval.low * blocks_per_stay, out.interval.high * blocks_per_stay};
  return out;
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
