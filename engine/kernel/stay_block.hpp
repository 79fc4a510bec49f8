#pragma once

// Plain data only, and no other header: this file is compiled for several instruction sets, and an
// inline function of the library that one of those objects emitted could serve the whole program.

namespace dullspell {

/// Stays that are run side by side.
constexpr int kBlockStays = 64;
constexpr int kKernelNodes = 65;  ///< of clearness, K = 0 .. 1
constexpr int kKernelColdPoints = 10;

/// What the kernel needs of one clock hour.
struct KernelHour {
  int segment;
  int hour_of_day;
  int lit;     ///< panels can give something
  int hookup;  ///< mains at this camp
  double temperature_swing;
  double at_camp;
  double fixed_dc_w, fixed_ac_w;
  double inverter_on;
  double vehicle_w;
  double generator_allowed;
  double generator_target_wh;  ///< rule `night`; negative: none
};

/// A load that varies or may be given up.
struct KernelLoad {
  const double* watts;       ///< by hour of the stay
  int ac;                    ///< behind the inverter
  int optional;              ///< may be given up
  double optional_below_wh;  ///< stored energy below which it is
};

/// One window of one clock hour in which the furnace holds a temperature.
struct KernelHold {
  double share;
  double set_point_c;
};

/// A prepared plan in plain arrays.
struct KernelPlan {
  int hours, segments, controllers, loads;
  const KernelHour* hour;
  const double* power;  ///< [segment][controller][node][hour of day][at 25 C, per K]
  const double* controller_limit_w;
  const KernelLoad* load;

  int has_furnace;
  double blower_w, output_w, heat_loss_w_per_k, gains_w;
  double per_output_w;  ///< reciprocals are taken once: `per_x` is 1 / x
  int has_other_heat;
  double other_heat_c;
  const KernelHold* hold;
  int hold_begin[25];  ///< windows of an hour of the day: hold_begin[h] .. hold_begin[h + 1]
  double unheld_share[24];

  int has_fridge, fridge_ac;
  const double* fridge_w;  ///< at whole degrees
  int fridge_points;
  double fridge_coldest_c, fridge_warmest_c;

  double usable_wh, per_usable_wh, capacity_wh;  ///< capacity as it is now: label times health
  double charge_efficiency, discharge_efficiency;
  double per_charge_efficiency, per_discharge_efficiency;
  double charge_limit_w, discharge_limit_w;
  double taper_from, per_taper, taper_to_c, charge_min_c;  ///< per_taper: of 1 - taper_from
  double self_discharge_per_h;
  double start_wh;
  int battery_outside;
  double cold_share[kKernelColdPoints];
  double cold_from_c, cold_points_per_k;

  int has_inverter;
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
  unsigned long long* flat;    ///< [hour], a bit a stay
  unsigned short* charge_bin;  ///< [hour][stay], 0..255, 256 when full
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
};

/// Runs a block: the arithmetic of StayRunner, operation by operation, on many stays at once.
/// Bits are the same whatever the instruction set.
using BlockKernel = void (*)(const KernelPlan&, const KernelWeather&, KernelResult&);

/// Draws the weather of stays `first` .. `first` + kBlockStays - 1 into rows [segment][stay]: the
/// very values of DaySequence and DrawnSky.
using BlockDraw = void (*)(const KernelDraws&, unsigned first, double* k, double* temp_mean_c,
                           double* temp_range_c);

/// Standard normal pairs of the stays of a block, the values of StandardNormalPair: block
/// `draw_block` of the streams (seed, stay, day, purpose).
using BlockNormals = void (*)(unsigned long long seed, unsigned first, unsigned day,
                              unsigned purpose, unsigned draw_block, double* one, double* other);

void draw_block_baseline(const KernelDraws& draws, unsigned first, double* k, double* temp_mean_c,
                         double* temp_range_c);
void draw_block_v3(const KernelDraws& draws, unsigned first, double* k, double* temp_mean_c,
                   double* temp_range_c);
void draw_block_v4(const KernelDraws& draws, unsigned first, double* k, double* temp_mean_c,
                   double* temp_range_c);
void block_normals_baseline(unsigned long long seed, unsigned first, unsigned day, unsigned purpose,
                            unsigned draw_block, double* one, double* other);
void block_normals_v3(unsigned long long seed, unsigned first, unsigned day, unsigned purpose,
                      unsigned draw_block, double* one, double* other);
void block_normals_v4(unsigned long long seed, unsigned first, unsigned day, unsigned purpose,
                      unsigned draw_block, double* one, double* other);

void run_block_baseline(const KernelPlan& plan, const KernelWeather& weather, KernelResult& out);
void run_block_v3(const KernelPlan& plan, const KernelWeather& weather, KernelResult& out);
void run_block_v4(const KernelPlan& plan, const KernelWeather& weather, KernelResult& out);

}  // namespace dullspell
