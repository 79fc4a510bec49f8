#include "engine/cabin.hpp"

#include <algorithm>

namespace dullspell {

double PreparedFridge::power_at(double ambient_c) const {
  double power_w = coldest_w;
  for (const Piece& piece : pieces) {
    power_w += piece.w_per_k * std::clamp(ambient_c - piece.from_c, 0.0, piece.length_k);
  }
  return power_w;
}

CabinHour cabin_hour(const PreparedPlan& prepared, int hour_of_day, double air_c) {
  CabinHour cabin{0.0, 0.0, std::max(kLivedIn_c, air_c), std::max(kLivedIn_c, air_c)};
  if (prepared.furnace) {
    const PreparedFurnace& f = *prepared.furnace;
    const auto h = static_cast<std::size_t>(hour_of_day);
    const double unheated_c = air_c + f.gains_w / f.heat_loss_w_per_k;
    const double warmest_c = air_c + (f.output_w + f.gains_w) / f.heat_loss_w_per_k;
    const double otherwise_c = std::max(f.other_heat_c.value_or(unheated_c), unheated_c);
    cabin.held_c = f.unheld_share[h] * otherwise_c;
    cabin.drifting_c = f.unheld_share[h] * otherwise_c + (1.0 - f.unheld_share[h]) * unheated_c;
    for (const auto& hold : f.hold[h]) {
      const double heat_w = f.heat_loss_w_per_k * (hold.set_point_c - air_c) - f.gains_w;
      const double duty = std::clamp(heat_w * (1.0 / f.output_w), 0.0, 1.0);
      cabin.furnace_w += hold.share * duty * f.blower_w;
      cabin.held_c += hold.share * std::clamp(hold.set_point_c, unheated_c, warmest_c);
    }
  }
  if (prepared.fridge) cabin.fridge_w = prepared.fridge->power_at(cabin.held_c);
  return cabin;
}

double battery_temperature_c(const PreparedPlan& prepared, const CabinHour& cabin, double air_c,
                             bool powerless) {
  if (prepared.battery.where == BatteryWhere::outside) return air_c;
  return powerless ? cabin.drifting_c : cabin.held_c;
}

}  // namespace dullspell
