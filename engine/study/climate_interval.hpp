#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "engine/kernel/instruction_set.hpp"
#include "engine/statistics/interval.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/study/progress.hpp"

namespace dullspell {

/// Climates that the places' records would allow, and shares of stays under each of them.
constexpr int kAlternativeClimates = 32;

/// Standard errors by which the alternatives are off, [alternative][place]: a Latin hypercube of
/// normal deviates (McKay, Beckman & Conover 1979, Technometrics 21:239) in every statistic of each
/// place.
std::vector<std::vector<ClimateDeviates>> alternative_climates(std::size_t places,
                                                               std::uint64_t seed);

/// Stays that fail on each day, flat for longer than the plan accepts, under the stated climate and
/// its alternatives, all on the same draws.
struct ClimateCounts {
  std::uint64_t stays = 0;
  Indexed<DayIndex, std::uint32_t> home;
  Indexed<DayIndex, std::uint32_t> along;  ///< of nothing without a generator
};

/// How many of so many stays each climate is run on: a sixteenth, at most 4,096.
std::uint64_t climate_stays(std::uint64_t stays);

/// Entry 0 is the stated climate, then the alternatives. Each is run on climate_stays(). Neither
/// `threads` nor the instruction set changes the counts.
std::vector<ClimateCounts> run_climates(const PreparedPlan& plan, std::uint64_t seed,
                                        std::uint64_t stays, int threads,
                                        InstructionSet instruction_set = best_instruction_set(),
                                        const Progress& progress = {});

/// Stays that fail at all on one of the tracks, under each of them.
std::vector<std::uint64_t> flat_stays(const std::vector<ClimateCounts>& climates,
                                      Indexed<DayIndex, std::uint32_t> ClimateCounts::*track);

/// Interval of a share for what the places' records cannot tell: the central 95 % of its values
/// under the alternatives, moved by the difference between all stays and the stays that served
/// here, and widened in quadrature by the sampling interval.
/// `counts` are of stays, entry 0 under the stated climate; `of` is how many stays each has.
Interval climate_interval(const Proportion& share, std::span<const std::uint64_t> counts,
                          std::uint64_t of);

/// The same of any estimate, such as a difference of two shares: its values under the stated
/// climate (entry 0, finite) and under the alternatives, which may be infinite.
Interval climate_interval(double estimate, const Interval& sampling,
                          std::span<const double> values);

}  // namespace dullspell
