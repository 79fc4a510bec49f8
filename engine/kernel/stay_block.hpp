#pragma once

// Plain data only, as engine/hour/number.hpp says.

#include "engine/hour/hour_tables.hpp"

namespace dullspell {

/// Stays that are run side by side.
constexpr int kBlockStays = 64;

/// Weather and use of a block, one entry a stay; rows are aligned to 64 bytes.
struct KernelWeather {
  const double* k;             ///< [segment][stay]
  const double* temp_mean_c;   ///< [segment][stay]
  const double* temp_range_c;  ///< [segment][stay]
  const double* use;           ///< [segment][load][stay]
};

/// How weather follows from normal draws, day by day.
struct KernelDay {
  double sky_kept, sky_new;  ///< weights of Z, see DayLink
  double of_year, of_day;
  double warm_kept, warm_new;
  int first_segment, end_segment;
};

constexpr int kKernelChiCells = 256;  ///< of the clearness tables, over chi = -6 .. 6

struct KernelClimate {
  const double* k_of_chi;  ///< kKernelChiCells + 1 values
  double temp_mean_c, temp_per_chi, temp_per_warm;
  double range_mean_c, range_k_slope, k_mean;
};

/// Drawn weather of a plan in plain arrays.
struct KernelDraws {
  unsigned long long seed;
  int days;
  const KernelDay* day;
  const KernelClimate* climate;  ///< by segment
  unsigned year_purpose, weather_purpose;
};

/// What a block did on one track.
struct KernelTrack {
  unsigned long long* flat;  ///< [hour], a bit a stay
  short* charge_bin;  ///< [hour][stay], 0..255, 256 when full; null: `flat` is all that is wanted
  alignas(64) double demand_wh[kBlockStays];
  alignas(64) double shortfall_wh[kBlockStays];
  alignas(64) double given_up_wh[kBlockStays];
  alignas(64) double spilled_wh[kBlockStays];
  alignas(64) double generator_h[kBlockStays];
  alignas(64) double fuel_l[kBlockStays];
  alignas(64) double starts[kBlockStays];
};

struct KernelResult {
  KernelTrack home, along;
  alignas(64) double panels_wh[kBlockStays];
  alignas(64) double wanted_wh[kBlockStays];  ///< by all loads
};

/// Runs a block: the arithmetic of StayRunner, operation by operation, on many stays at once.
/// Bits are the same whatever the instruction set. `power` is room for [controller][column][stay].
using BlockKernel = void (*)(const HourTables&, const KernelWeather&, double* power, KernelResult&);

/// Least generator hours of a block with perfect foresight, into `sum_h`: StayRunner's, operation
/// by operation. Returns the stays that all allowed hours do not save, a bit each. `needed_wh` is
/// room for [hours + 1][stay].
using BlockLeastHours = unsigned long long (*)(const HourTables&, const KernelWeather&,
                                               double* power, double* needed_wh, double* sum_h);

/// Stored energy that stays must hold so as never to run flat, as StayRunner::find_needed_energy
/// looks for it, the generator running in all allowed hours to come; rows [hour][stay], each with
/// one more at the end.
struct NeededEnergy {
  double* before_wh;   ///< the hour
  double* resting_wh;  ///< before the hour, the generator resting in it; hours that allow it only
  double* after_wh;    ///< at its end, the generator resting for the rest of its window; likewise
};

using BlockNeededEnergy = void (*)(const HourTables&, const KernelWeather&, double* power,
                                   const NeededEnergy&);

/// Draws the weather of stays `first` .. `first` + kBlockStays - 1 into rows [segment][stay]: the
/// very values of DaySequence and DrawnSky.
using BlockDraw = void (*)(const KernelDraws&, unsigned first, double* k, double* temp_mean_c,
                           double* temp_range_c);

/// Standard normal pairs of the stays of a block, the values of StandardNormalPair: block
/// `draw_block` of the streams (seed, stay, day, purpose).
using BlockNormals = void (*)(unsigned long long seed, unsigned first, unsigned day,
                              unsigned purpose, unsigned draw_block, double* one, double* other);

#define DULLSPELL_DECLARE_KERNEL(level)                                                           \
  void run_block_##level(const HourTables& plan, const KernelWeather& weather, double* power,     \
                         KernelResult& out);                                                      \
  unsigned long long least_hours_##level(const HourTables& plan, const KernelWeather& weather,    \
                                         double* power, double* needed_wh, double* sum_h);        \
  void needed_energy_##level(const HourTables& plan, const KernelWeather& weather, double* power, \
                             const NeededEnergy& out);                                            \
  void draw_block_##level(const KernelDraws& draws, unsigned first, double* k,                    \
                          double* temp_mean_c, double* temp_range_c);                             \
  void block_normals_##level(unsigned long long seed, unsigned first, unsigned day,               \
                             unsigned purpose, unsigned draw_block, double* one, double* other);

DULLSPELL_DECLARE_KERNEL(baseline)
DULLSPELL_DECLARE_KERNEL(v3)
DULLSPELL_DECLARE_KERNEL(v4)
#undef DULLSPELL_DECLARE_KERNEL

}  // namespace dullspell
