#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "engine/kernel/stay_block.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "weather/past_weather.hpp"

namespace dullspell {

/// Weather of one segment of one stay.
struct SegmentSky {
  double k;  ///< daily clearness index, 0..1
  double temp_mean_c;
  double temp_range_c;  ///< daily max - min
};

/// Where a stay's weather comes from. `fill` is a pure function of the stay's number and may be
/// called from several threads at once.
class Sky {
 public:
  virtual ~Sky() = default;

  /// Fills one entry a segment of the prepared plan.
  virtual void fill(std::uint32_t stay, std::span<SegmentSky> out) const = 0;

  /// The same weather for the block kernel to draw by itself; null if it cannot.
  virtual const KernelDraws* block_draws() const { return nullptr; }
};

/// Synthetic weather: the places' distributions through the Gaussian day sequence.
class DrawnSky : public Sky {
 public:
  /// The climate that the plan's places state.
  DrawnSky(const PreparedPlan& prepared, std::uint64_t seed) : DrawnSky(prepared, nullptr, seed) {}

  /// Another climate for the same stay; the same seed draws the same normals.
  DrawnSky(const PreparedPlan& prepared, const StayClimate& climate, std::uint64_t seed)
      : DrawnSky(prepared, &climate, seed) {}

  DrawnSky(const DrawnSky&) = delete;
  DrawnSky& operator=(const DrawnSky&) = delete;

  void fill(std::uint32_t stay, std::span<SegmentSky> out) const override;

  /// Null where days are known: their draws depend on each other.
  const KernelDraws* block_draws() const override;

 private:
  DrawnSky(const PreparedPlan& prepared, const StayClimate* other, std::uint64_t seed);

  const DaySequence& sequence() const { return other_ ? other_->sequence : prepared_->sequence; }
  const SegmentClimate& climate(std::size_t segment) const {
    return other_ ? other_->segments[segment] : prepared_->segments[segment];
  }

  const PreparedPlan* prepared_;
  const StayClimate* other_;
  std::uint64_t seed_;
  KernelDraws draws_{};
  std::vector<KernelDay> days_;
  std::vector<KernelClimate> climates_;
};

/// Measured weather: stay i is the past period that begins on the i-th date, a stay beyond them the
/// last one again, since blocks draw more stays than are wanted. A day without temperature gets
/// what the plan expects.
class RecordedSky : public Sky {
 public:
  /// `warmer_k`: by camp, than at the record's site; empty if nowhere. Throws std::invalid_argument
  /// if there is no date.
  RecordedSky(const PreparedPlan& prepared, const PastWeather& past, std::vector<Date> begins,
              Indexed<CampIndex, double> warmer_k = {});

  void fill(std::uint32_t stay, std::span<SegmentSky> out) const override;

 private:
  const PreparedPlan* prepared_;
  const PastWeather* past_;
  std::vector<Date> begins_;
  Indexed<CampIndex, double> warmer_k_;
};

/// Weather by a rule of the caller's, for exact oracles and what-if questions.
class ScriptedSky : public Sky {
 public:
  using Script = std::function<void(std::uint32_t stay, std::span<SegmentSky> out)>;

  explicit ScriptedSky(Script script) : script_(std::move(script)) {}

  void fill(std::uint32_t stay, std::span<SegmentSky> out) const override { script_(stay, out); }

 private:
  Script script_;
};

}  // namespace dullspell
