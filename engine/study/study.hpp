#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "engine/stay/sky.hpp"
#include "engine/study/climate_interval.hpp"
#include "engine/study/progress.hpp"
#include "engine/study/stay_outcomes.hpp"
#include "engine/study/study_result.hpp"

namespace dullspell {

constexpr std::uint64_t kDefaultStays = 20'000;
constexpr std::uint64_t kMostStays = 4'194'304;

struct StudyOptions {
  std::uint64_t stays = kDefaultStays;
  std::uint64_t seed = 1;
  int threads = 0;                  ///< 0: all of the machine's
  std::optional<double> precision;  ///< greatest half-width of a printed interval, 0.0005..0.2
  InstructionSet instruction_set = best_instruction_set();  ///< never changes a result
};

/// Whether what became of each stay is wanted besides the counts.
enum class Keep { counts, outcomes };

/// A study with all that one pass over its stays, and one over its climates, can tell.
struct Study {
  StudyResult result;
  StayOutcomes outcomes;                ///< empty unless kept
  std::vector<ClimateCounts> climates;  ///< as run_climates()
};

/// Runs stays 0, 1, 2, ... of a prepared plan and counts. The result is a pure function of plan,
/// sky, seed and number of stays: neither threads, their timing nor the instruction set enter.
Tally run_stays(const PreparedPlan& plan, const Sky& sky, std::uint64_t seed, std::uint64_t first,
                std::uint64_t count, int threads, const Progress& progress = {},
                InstructionSet instruction_set = best_instruction_set());

/// The whole study with drawn weather, climate intervals included.
Study run_whole_study(const PreparedPlan& plan, const StudyOptions& options, Keep keep,
                      const Progress& progress = {});

/// Its result alone.
StudyResult run_study(const PreparedPlan& plan, const StudyOptions& options,
                      const Progress& progress = {});

/// The same with any sky, without climate intervals.
StudyResult run_study(const PreparedPlan& plan, const Sky& sky, const StudyOptions& options,
                      const Progress& progress = {});

}  // namespace dullspell
