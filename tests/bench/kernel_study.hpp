#pragma once

#include <cstdint>

#include "engine/kernel/block_runner.hpp"
#include "engine/kernel/instruction_set.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/stay/sky.hpp"
#include "engine/study/tally.hpp"

namespace dullspell::bench {

constexpr std::uint64_t kSeed = 1;

/// A study by the block kernel on one thread, counts included, least generator hours and climate
/// intervals left out. The plan must outlive it.
class KernelStudy {
 public:
  KernelStudy(const PreparedPlan& plan, InstructionSet set)
      : plan_(plan),
        tables_(plan),
        sky_(plan, kSeed),
        blocks_(plan, tables_, kSeed, kernel_for(set)),
        tally_(plan) {}

  /// `stays` is a multiple of kBlockStays.
  void run(std::uint32_t first, std::uint32_t stays) {
    for (std::uint32_t i = 0; i < stays; i += kBlockStays) {
      tally_.add(plan_, blocks_.run(sky_, first + i), kBlockStays);
    }
  }

  const Tally& tally() const { return tally_; }

 private:
  const PreparedPlan& plan_;
  StayTables tables_;
  DrawnSky sky_;
  BlockRunner blocks_;
  Tally tally_;
};

}  // namespace dullspell::bench
