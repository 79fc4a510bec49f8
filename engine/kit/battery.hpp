#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "engine/kit/battery_model.hpp"
#include "engine/kit/no_limit.hpp"

namespace dullspell {

/// What a kind of cell sets unless a plan says otherwise (common practice, data-sheet ranges).
struct ChemistryPreset {
  std::string name;
  double usable_share;          ///< of the label's capacity
  double charge_efficiency;     ///< stored over taken in
  double discharge_efficiency;  ///< given out over taken from store
  double charge_limit_c_rate;   ///< per hour, in units of capacity
  double discharge_limit_c_rate;
  double taper_from;                ///< state of charge at which acceptance begins to fall
  double taper_to_c_rate;           ///< acceptance at full
  double charge_min_c;              ///< coldest cell that may be charged, C
  double self_discharge_per_month;  ///< share of what is stored
};

/// Preset by name ("lfp", "nmc"); nothing for other names.
std::optional<ChemistryPreset> chemistry_preset(std::string_view name);

/// Wh on the label that a plan may state.
constexpr double kLeastBattery_wh = 50.0, kMostBattery_wh = 200'000.0;

enum class BatteryWhere { inside, outside };

constexpr double kHoursPerMonth = 730.0;

struct Battery {
  std::string chemistry = "lfp";
  double capacity_wh = 0.0;         ///< on the label
  std::optional<double> nominal_v;  ///< if stated
  double health = 1.0;
  double usable_share = 1.0;
  double start_charge = 1.0;
  double charge_efficiency = 0.98;
  double discharge_efficiency = 0.98;
  double charge_limit_w = kNoLimit_w;
  double discharge_limit_w = kNoLimit_w;
  bool charge_limit_follows = false;  ///< the capacity, if that changes; stated in W it does not
  bool discharge_limit_follows = false;
  double taper_from = 0.95;
  double taper_to_c_rate = 0.10;
  double charge_min_c = 0.0;
  double self_discharge_per_month = 0.02;
  BatteryWhere where = BatteryWhere::inside;

  /// What it holds between empty and full at 25 C, Wh.
  double usable_wh() const { return capacity_wh * health * usable_share; }

  /// Share of what is stored that an hour of self-discharge leaves.
  double kept_per_h() const { return 1.0 - self_discharge_per_month / kHoursPerMonth; }
};

/// For the hour's arithmetic, nothing ruled out.
BatteryModel battery_model(const Battery& battery);

}  // namespace dullspell
