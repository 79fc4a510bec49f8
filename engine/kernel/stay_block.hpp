#pragma once

// Plain data only, and no other header: this file is compiled for several instruction sets, and an
// inline function of the library that one of those objects emitted could serve the whole program.

namespace dullspell {

/// Stays that are run side by side.
constexpr int kBlockStays = 64;
constexpr int kKernelNodes = 65;  ///< of clearness, K = 0 .. 1
constexpr int kKernelColdLines = 4;
constexpr int kKernelTaperHalvings = 12;

/// What the kernel needs of one clock hour.
struct KernelHour {
  int segment;
  int hour_of_day;
  int lit;       ///< panels can give something
  int hookup;    ///< mains at this camp
  int charging;  ///< anything may charge the battery
  double temperature_swing;
  double at_camp;
  double fixed_dc_w, fixed_ac_w;
  double inverter_on;
  double vehicle_w;
  double generator_allowed;
  double generator_target_wh;  ///< rule `night`; negative: none
};

/// Hours of a stay at one camp on one date.
struct KernelSegment {
  int first_hour, end_hour;
  int lit_from, lit_to;  ///< clock hours; panels give nothing in others
};

/// A load that varies or may be given up.
struct KernelLoad {
  int ac;                    ///< behind the inverter
  double optional_below_wh;  ///< stored energy below which it is given up
};

/// One window of one clock hour in which the furnace holds a temperature.
struct KernelHold {
  double share;
  double set_point_c;
};

struct KernelLine {
  double at_0_c, per_k;
};

/// Straight piece of a function of temperature.
struct KernelPiece {
  double from_c, length_k, w_per_k;
};

/// A prepared plan in plain arrays.
struct KernelPlan {
  int hours, segments, controllers, loads;
  int optional_loads;  ///< of the loads, which begin with them
  const KernelHour* hour;
  const KernelSegment* segment;
  /// [segment][controller][node][hour of day][at 25 C, per K], aligned to 64 bytes
  const double* power;
  const double* controller_limit_w;
  const KernelLoad* load;
  const double* load_w;  ///< [hour][load], on a usual day

  int has_furnace;
  double blower_w, heat_loss_w_per_k, gains_w;
  double per_output_w;                 ///< reciprocals are taken once: `per_x` is 1 / x
  double gains_k, output_and_gains_k;  ///< by which gains, or they and the furnace, warm the cabin
  int has_other_heat;
  double other_heat_c;
  const KernelHold* hold;
  int hold_begin[25];  ///< windows of an hour of the day: hold_begin[h] .. hold_begin[h + 1]
  double unheld_share[24];

  int has_fridge, fridge_ac;
  double fridge_coldest_w;
  const KernelPiece* fridge_piece;
  int fridge_pieces;

  double usable_wh, per_usable_wh, capacity_wh;  ///< capacity as it is now: label times health
  double charge_efficiency, discharge_efficiency;
  double per_charge_efficiency, per_discharge_efficiency;
  double charge_limit_w, discharge_limit_w;
  int may_overdraw;       ///< loads can ask for more than the discharge limit
  int tapers;             ///< acceptance falls from `charge_limit_w` with what is stored
  int full_accepts_less;  ///< there is no limit to fall from: only full accepts no more than this
  double taper_from, taper_at_empty_w, taper_w_per_wh, taper_least_w;
  double charge_min_c;
  double kept_per_h, per_kept_per_h;
  double start_wh;
  int battery_outside;
  int powerless_differs;  ///< a flat battery's furnace no longer keeps it warm
  KernelLine cold_share[kKernelColdLines];
  int first_cold_line;  ///< of those that matter, as warm as the battery is kept
  int charges_in_any_weather;
  double coldest_share;

  int has_inverter;
  int may_overload;  ///< loads can ask for more than it gives
  double inverter_rated_w, inverter_standby_w, inverter_linear, inverter_quadratic_per_w;

  int has_generator;
  double generator_rated_w, generator_charger_w, generator_charger_efficiency;
  double per_charger_efficiency;
  int rule_below;
  double start_below_wh, stop_at_wh, min_run_h;
  double fuel_l_per_h_idle, fuel_l_per_kwh;
  double hookup_charger_w;
};

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

/// Columns of `power` that a kernel keeps for each controller.
constexpr int kKernelPowerColumns = 2 * 24;

/// Runs a block: the arithmetic of StayRunner, operation by operation, on many stays at once.
/// Bits are the same whatever the instruction set. `power` is room for [controller][column][stay].
using BlockKernel = void (*)(const KernelPlan&, const KernelWeather&, double* power, KernelResult&);

/// Least generator hours of a block with perfect foresight, into `sum_h`: StayRunner's, operation
/// by operation. Returns the stays that all allowed hours do not save, a bit each. `needed_wh` is
/// room for [hours + 1][stay].
using BlockLeastHours = unsigned long long (*)(const KernelPlan&, const KernelWeather&,
                                               double* power, double* needed_wh, double* sum_h);

/// Draws the weather of stays `first` .. `first` + kBlockStays - 1 into rows [segment][stay]: the
/// very values of DaySequence and DrawnSky.
using BlockDraw = void (*)(const KernelDraws&, unsigned first, double* k, double* temp_mean_c,
                           double* temp_range_c);

/// Standard normal pairs of the stays of a block, the values of StandardNormalPair: block
/// `draw_block` of the streams (seed, stay, day, purpose).
using BlockNormals = void (*)(unsigned long long seed, unsigned first, unsigned day,
                              unsigned purpose, unsigned draw_block, double* one, double* other);

#define DULLSPELL_DECLARE_KERNEL(level)                                                        \
  void run_block_##level(const KernelPlan& plan, const KernelWeather& weather, double* power,  \
                         KernelResult& out);                                                   \
  unsigned long long least_hours_##level(const KernelPlan& plan, const KernelWeather& weather, \
                                         double* power, double* needed_wh, double* sum_h);     \
  void draw_block_##level(const KernelDraws& draws, unsigned first, double* k,                 \
                          double* temp_mean_c, double* temp_range_c);                          \
  void block_normals_##level(unsigned long long seed, unsigned first, unsigned day,            \
                             unsigned purpose, unsigned draw_block, double* one, double* other);

DULLSPELL_DECLARE_KERNEL(baseline)
DULLSPELL_DECLARE_KERNEL(v3)
DULLSPELL_DECLARE_KERNEL(v4)
#undef DULLSPELL_DECLARE_KERNEL

}  // namespace dullspell
