#pragma once

#include <cstdint>
#include <vector>

#include "engine/kernel/instruction_set.hpp"
#include "engine/kernel/stay_block.hpp"
#include "engine/prepared_plan.hpp"
#include "engine/sky.hpp"

namespace dullspell {

/// A prepared plan in the plain arrays that the kernel takes; owns them.
class KernelTables {
 public:
  explicit KernelTables(const PreparedPlan& plan);
  KernelTables(const KernelTables&) = delete;
  KernelTables& operator=(const KernelTables&) = delete;

  const KernelPlan& plan() const { return plan_; }

 private:
  KernelPlan plan_{};
  std::vector<KernelHour> hours_;
  std::vector<double> power_;
  std::vector<KernelLoad> loads_;
  std::vector<KernelHold> holds_;
};

/// Runs blocks of stays of one prepared plan, one after the other, without allocating between
/// them. One for each thread; plan, tables and sky are shared and must outlive it.
class BlockRunner {
 public:
  BlockRunner(const PreparedPlan& plan, const KernelTables& tables, const Sky& sky,
              std::uint64_t seed, const Kernel& kernel);
  BlockRunner(BlockRunner&&) = default;

  /// Runs stays `first` .. `first` + kBlockStays - 1; the result stays valid until the next call.
  /// Stays beyond those that are wanted are run all the same and may be ignored.
  const KernelResult& run(std::uint32_t first);

  /// Stays of the last block that ran flat at home, a bit each.
  std::uint64_t flat_at_home() const;

 private:
  void fill_weather(std::uint32_t first);
  void fill_use(std::uint32_t first);

  const PreparedPlan& plan_;
  const KernelTables& tables_;
  const Sky& sky_;
  std::uint64_t seed_;
  Kernel kernel_;

  struct alignas(64) Row {
    double stay[kBlockStays];
  };
  std::vector<SegmentSky> sky_of_stay_;
  std::vector<Row> k_, temp_mean_c_, temp_range_c_;  // by segment
  std::vector<Row> use_;                             // [segment][load]
  std::vector<unsigned long long> home_flat_, along_flat_;
  std::vector<unsigned short> home_bins_, along_bins_;
  KernelResult result_{};
};

}  // namespace dullspell
