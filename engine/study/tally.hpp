#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "engine/kernel/stay_block.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/stay/stay.hpp"

namespace dullspell {

/// Counts of values in equal bins from 0; values beyond the last bin count in it.
class Histogram {
 public:
  Histogram() = default;
  Histogram(double bin_width, std::size_t bins) : width_(bin_width), counts_(bins, 0) {}

  void operator()(double value);
  Histogram& operator+=(const Histogram& other);

  std::uint64_t count() const;
  double bin_width() const { return width_; }
  const std::vector<std::uint32_t>& counts() const { return counts_; }

  /// Value below which the share `p` of the entries lies, linear within its bin: off by at most one
  /// bin width. Zero entries in the first bin count as exactly zero if `zero_is_exact`.
  double quantile(double p, bool zero_is_exact = false) const;

 private:
  double width_ = 1.0;
  std::vector<std::uint32_t> counts_;
};

/// An empty one that holds the generator hours of a stay.
Histogram generator_hours_histogram(const PreparedPlan& plan);

/// State of charge in 1/256, with full as a bin of its own; quantiles are good to 0.004.
class ChargeHistogram {
 public:
  static constexpr std::size_t kBins = 257;

  void operator()(double charge) { ++counts_[bin(charge)]; }
  void add_bin(std::size_t bin) { ++counts_[bin]; }
  ChargeHistogram& operator+=(const ChargeHistogram& other);
  std::uint64_t count() const;
  double quantile(double p) const;

 private:
  static std::size_t bin(double charge);

  std::vector<std::uint32_t> counts_ = std::vector<std::uint32_t>(kBins, 0);
};

/// A sum of energies, litres or hours kept in whole 1/1024: the same in any order of adding.
class FixedSum {
 public:
  void operator+=(double value);
  void operator+=(const FixedSum& other) { units_ += other.units_; }
  double value() const { return static_cast<double>(units_) / 1024.0; }

 private:
  std::int64_t units_ = 0;
};

/// What is counted of one track over many stays.
struct TrackTally {
  std::uint64_t flat_stays = 0;  ///< flat for longer in all than the plan accepts: they fail
  Indexed<DayIndex, std::uint32_t> flat_on_day;
  Indexed<DayIndex, std::uint32_t> fails_on_day;
  std::vector<std::uint32_t> fails_at_hour;     ///< by hour of the stay
  std::vector<std::uint64_t> flat_hour_of_day;  ///< all flat hours by clock hour
  std::uint64_t flat_hours = 0;
  Histogram flat_h;                     ///< hours flat of a stay
  Histogram flat_nights;                ///< nights of a stay, noon to noon, with a flat hour
  Histogram missing_wh;                 ///< shortfall of a stay
  std::vector<ChargeHistogram> charge;  ///< by hour of the stay
  Indexed<DayIndex, ChargeHistogram> morning_low;
  std::uint64_t flat_nights_sum = 0;
  FixedSum demand_wh, shortfall_wh, given_up_wh, spilled_wh;
  Histogram generator_h, fuel_l, starts;
  FixedSum generator_h_sum, fuel_l_sum, starts_sum;

  explicit TrackTally(const PreparedPlan& plan);
  void add(const PreparedPlan& plan, const TrackTrace& trace);
  /// The first `stays` of a block.
  void add(const PreparedPlan& plan, const KernelTrack& track, int stays);
  TrackTally& operator+=(const TrackTally& other);

 private:
  void add_flat_hours(const PreparedPlan& plan, const KernelTrack& track, int stays);
  void add_morning_lows(const PreparedPlan& plan, const KernelTrack& track, int stays);

  std::vector<short> lows_;  // of a block, [day][stay]
};

/// Everything that a study counts; adding is exact, so any grouping of stays gives the same bits.
struct Tally {
  std::uint64_t stays = 0;
  TrackTally home;
  TrackTally along;
  Histogram least_generator_h;
  std::uint64_t least_not_enough = 0;  ///< stays where all allowed hours do not suffice
  FixedSum panels_wh;

  explicit Tally(const PreparedPlan& plan);
  void add(const PreparedPlan& plan, const StayTrace& trace);

  /// The first `stays` of a block but for the least generator hours, which the caller adds.
  void add(const PreparedPlan& plan, const KernelResult& block, int stays);
  void add_least_generator_h(std::optional<double> hours);

  Tally& operator+=(const Tally& other);
};

}  // namespace dullspell
