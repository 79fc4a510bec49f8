#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "engine/kernel/instruction_set.hpp"
#include "engine/kernel/stay_block.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/stay/sky.hpp"
#include "engine/stay/stay_tables.hpp"

namespace dullspell {

/// Rows of a block in memory that the kernel can take.
struct alignas(64) StayRow {
  double stay[kBlockStays];
};

/// The bits of a block's first `stays`, 0..kBlockStays.
constexpr std::uint64_t first_stays(int stays) {
  return stays == kBlockStays ? ~std::uint64_t{0} : (std::uint64_t{1} << stays) - 1;
}

/// Weather and use of a block of stays.
class BlockWeather {
 public:
  explicit BlockWeather(const PreparedPlan& plan);

  KernelWeather rows() const;

  std::vector<StayRow> k, temp_mean_c, temp_range_c;  ///< by segment
  std::vector<StayRow> use;                           ///< [segment][load]
};

/// How much of a block is kept; `flat_only` leaves out the state of charge by hour.
enum class BlockDetail { all, flat_only };

/// Runs blocks of stays of one prepared plan, one after the other, without allocating between
/// them. One for each thread; plan and tables are shared and must outlive it.
class BlockRunner {
 public:
  BlockRunner(const PreparedPlan& plan, const StayTables& tables, std::uint64_t seed,
              const Kernel& kernel, BlockDetail detail = BlockDetail::all);
  BlockRunner(BlockRunner&&) = default;

  /// Runs stays `first` .. `first` + kBlockStays - 1; the result stays valid until the next call.
  /// Stays beyond those that are wanted are run all the same and may be ignored.
  const KernelResult& run(const Sky& sky, std::uint32_t first);

  /// What stays of a block need not to run flat, see NeededEnergy; valid until the next call.
  NeededEnergy needed_energy(const Sky& sky, std::uint32_t first);

  /// Stays of the last block that were flat for longer than the plan accepts, at home or with the
  /// generator along, a bit each.
  std::uint64_t failed_at_home() const { return failed(home_flat_); }
  std::uint64_t failed_along() const { return failed(along_flat_); }

  /// Hours flat of its stays whose bits are set, together.
  std::uint64_t flat_hours_at_home(std::uint64_t stays) const;
  std::uint64_t flat_hours_along(std::uint64_t stays) const;

  const BlockWeather& weather() const { return weather_; }

 private:
  void fill_weather(const Sky& sky, std::uint32_t first);
  void fill_use(std::uint32_t first);
  std::uint64_t failed(const std::vector<unsigned long long>& flat) const;

  const PreparedPlan& plan_;
  const StayTables& tables_;
  std::uint64_t seed_;
  Kernel kernel_;

  std::vector<SegmentSky> sky_of_stay_;
  BlockWeather weather_;
  std::vector<StayRow> power_;  // the kernel's room
  std::vector<unsigned long long> home_flat_, along_flat_;
  std::vector<short> home_bins_, along_bins_;
  std::vector<StayRow> before_, resting_, after_;  // of needed_energy()
  KernelResult result_{};
};

/// Finds the least generator hours of single stays of blocks, gathered until they fill a block of
/// their own: the stays that need them are few or many, and never neighbours.
class LeastHoursRunner {
 public:
  /// Hours of one stay; none where all allowed hours do not suffice.
  using Take = std::function<void(std::optional<double>)>;

  LeastHoursRunner(const PreparedPlan& plan, const StayTables& tables, const Kernel& kernel);

  /// Stay `i` of a block; may call `take` for stays added up to now, in their order.
  void add(const BlockWeather& block, int i, const Take& take);

  /// Calls `take` for the stays that are left.
  void finish(const Take& take);

 private:
  const StayTables& tables_;
  Kernel kernel_;
  BlockWeather weather_;
  int gathered_ = 0;
  std::vector<StayRow> power_, needed_wh_;  // the kernel's room
};

}  // namespace dullspell
