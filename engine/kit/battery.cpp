#include "engine/kit/battery.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace dullspell {

std::optional<ChemistryPreset> chemistry_preset(std::string_view name) {
  static const std::array presets{
      ChemistryPreset{"lfp", 1.0, 0.98, 0.98, 0.5, 1.0, 0.95, 0.10, 0.0, 0.02},
      ChemistryPreset{"nmc", 1.0, 0.97, 0.97, 0.5, 1.0, 0.85, 0.10, 0.0, 0.02},
  };
  for (const auto& preset : presets) {
    if (preset.name == name) return preset;
  }
  return std::nullopt;
}

BatteryModel battery_model(const Battery& battery) {
  BatteryModel model{};
  model.usable_wh = battery.usable_wh();
  model.per_usable_wh = 1.0 / model.usable_wh;
  model.capacity_wh = battery.capacity_wh * battery.health;
  model.start_wh = battery.start_charge * model.usable_wh;
  model.charge_efficiency = battery.charge_efficiency;
  model.per_charge_efficiency = 1.0 / battery.charge_efficiency;
  model.discharge_efficiency = battery.discharge_efficiency;
  model.per_discharge_efficiency = 1.0 / battery.discharge_efficiency;
  model.charge_limit_w = battery.charge_limit_w;
  model.discharge_limit_w = battery.discharge_limit_w;
  model.taper_from_wh = battery.taper_from * model.usable_wh;
  model.taper_least_w =
      std::min(battery.charge_limit_w, battery.taper_to_c_rate * model.capacity_wh);
  model.full_accepts_less = battery.taper_from < 1.0;
  model.tapers = model.full_accepts_less && std::isfinite(battery.charge_limit_w);
  if (model.tapers) {
    const double fall_w =
        (battery.charge_limit_w - model.taper_least_w) / (1.0 - battery.taper_from);
    model.taper_at_empty_w = model.taper_least_w + fall_w;
    model.taper_w_per_wh = fall_w / model.usable_wh;
  }
  model.charge_min_c = battery.charge_min_c;
  model.kept_per_h = battery.kept_per_h();
  model.per_kept_per_h = 1.0 / model.kept_per_h;
  model.may_overdraw = true;
  return model;
}

}  // namespace dullspell
