#pragma once

#include <cstdint>
#include <vector>

#include "engine/kernel/instruction_set.hpp"
#include "engine/statistics/paired_difference.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/stay/sky.hpp"

namespace dullspell {

/// Which tracks are wanted; leaving the generator out halves the work.
enum class Tracks { both, home };

class BlockRunner;
struct KernelResult;

/// What became of each stay, kept apart so that plans can be compared stay by stay: the same seed
/// and number mean the same weather, whatever the plan.
struct StayOutcomes {
  std::uint64_t stays = 0;
  /// A bit a stay: flat for longer than the plan accepts, generator left at home.
  std::vector<std::uint64_t> flat_home;
  std::vector<std::uint64_t> flat_along;                 ///< empty without a generator
  std::vector<std::uint32_t> flat_h_home, flat_h_along;  ///< hours flat of each block's stays
  std::vector<double> generator_h;  ///< run by its rule; empty without a generator

  StayOutcomes() = default;
  StayOutcomes(std::uint64_t of_stays, Tracks tracks);

  /// Makes room for more stays.
  void resize(std::uint64_t of_stays, Tracks tracks);

  /// The first `count` stays of a block that ran from stay `first` on. Blocks may be taken by
  /// several threads at once.
  void take(const BlockRunner& runner, const KernelResult& result, std::uint32_t first, int count);

  bool has_generator() const { return !flat_along.empty(); }
  std::uint64_t count_home() const;
  std::uint64_t count_along() const;
  double flat_h_mean_home() const;  ///< hours flat, a stay
  double flat_h_mean_along() const;

  /// The plan as it stands: with its generator, if it has one.
  const std::vector<std::uint64_t>& flat_as_planned() const {
    return has_generator() ? flat_along : flat_home;
  }
};

/// Hours flat of a stay, second minus first, over blocks of the same stays; its interval says
/// nothing where there is one block only.
MeanDifference flat_h_difference(const std::vector<std::uint32_t>& first,
                                 const std::vector<std::uint32_t>& second, std::uint64_t stays);

struct OutcomeOptions {
  std::uint64_t stays = 20'000;
  std::uint64_t seed = 1;
  int threads = 0;  ///< 0: all of the machine's
  InstructionSet instruction_set = best_instruction_set();
  Tracks tracks = Tracks::both;
};

/// Runs stays 0 .. stays - 1 of a prepared plan. A pure function of plan, seed and number of stays.
StayOutcomes run_outcomes(const PreparedPlan& plan, const OutcomeOptions& options);

/// The same under any weather.
StayOutcomes run_outcomes(const PreparedPlan& plan, const Sky& sky, const OutcomeOptions& options);

}  // namespace dullspell
