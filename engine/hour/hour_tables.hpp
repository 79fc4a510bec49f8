#pragma once

// The tables from which the hours of a stay are worked out: plain data for the readable loop and
// for the kernel alike. No library header, as number.hpp says.

#include "engine/hour/energy_step.hpp"
#include "engine/hour/index.hpp"
#include "engine/kit/battery_model.hpp"
#include "engine/kit/cabin_model.hpp"
#include "engine/kit/inverter_model.hpp"

namespace dullspell {

/// What may feed the battery's side in an hour besides panels and the vehicle.
enum class Source { none, mains, generator };

/// One clock hour of the stay, with everything that the weather does not change.
struct HourSlot {
  SegmentIndex segment;
  DayIndex day;
  int hour_of_day = 0;
  bool sun_up = false;
  bool panels_lit = false;         ///< panels can give something
  double temperature_swing = 0.0;  ///< times the daily range, from the daily mean
  double at_camp = 1.0;            ///< share of the hour not spent driving: panels are out
  double fixed_dc_w = 0.0;         ///< loads that are always wanted and never vary
  double fixed_ac_w = 0.0;
  double inverter_on = 0.0;  ///< share of the hour
  double vehicle_w = 0.0;
  Source source = Source::none;
  double source_share = 0.0;     ///< of the hour: mains connected, or generator allowed; 0 for none
  double start_below_wh = -1.0;  ///< the generator starts where less is stored; negative: never
  double stop_at_wh = 0.0;       ///< and runs so that the hour ends with so much

  /// The night that the hour belongs to, from noon to noon: 0 the one before the first date's noon.
  FORCE_INLINE int night() const { return hour_of_day < 12 ? day.value : day.value + 1; }

  FORCE_INLINE bool may_charge() const {
    return panels_lit || vehicle_w > 0.0 || source != Source::none;
  }
};

/// Clearness nodes of the power tables: K = node / kNodesPerUnit, 0..1.
constexpr int kNodesPerUnit = 64;
constexpr int kClearnessNodes = kNodesPerUnit + 1;

/// Columns of a power table: for each clock hour the power at 25 C and its change per K.
constexpr int kPowerColumns = 2 * 24;

/// Direct-current power of everything on one controller, before its limit, in every clock hour of
/// one date, W averaged over the hour: at_25(node, hour) + per_k(node, hour) (T_air - 25).
struct alignas(64) PowerTable {
  double row[kClearnessNodes][kPowerColumns] = {};

  FORCE_INLINE double& at_25(int node, int hour) { return row[node][2 * hour]; }
  FORCE_INLINE double at_25(int node, int hour) const { return row[node][2 * hour]; }
  FORCE_INLINE double& per_k(int node, int hour) { return row[node][2 * hour + 1]; }
  FORCE_INLINE double per_k(int node, int hour) const { return row[node][2 * hour + 1]; }
};

/// Hours of a stay at one camp on one date.
struct SegmentHours {
  int first_hour, end_hour;
  int lit_from, lit_to;     ///< clock hours; panels give nothing in others
  const PowerTable* power;  ///< [controller]
};

/// A load that varies or may be given up.
struct LoadModel {
  bool ac;                   ///< behind the inverter
  double optional_below_wh;  ///< stored energy below which it is given up
};

/// Everything that the hours of a stay are worked out from, but for weather and use.
struct HourTables {
  int hours = 0, segments = 0, controllers = 0, loads = 0;
  int optional_loads = 0;  ///< of the loads, which begin with them
  const HourSlot* hour = nullptr;
  const SegmentHours* segment = nullptr;
  const double* controller_limit_w = nullptr;
  const LoadModel* load = nullptr;
  const double* load_w = nullptr;  ///< [hour][load], on a usual day
  FurnaceModel furnace{};
  FridgeModel fridge{};
  BatteryModel battery{};
  bool battery_outside = false;
  bool powerless_differs = false;  ///< a flat battery's furnace no longer keeps it warm
  InverterModel inverter{};
  GeneratorModel generator;
  OutsidePower mains;
};

}  // namespace dullspell
