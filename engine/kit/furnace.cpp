#include "engine/kit/furnace.hpp"

#include <algorithm>

#include "weather/grid_rounding.hpp"

namespace dullspell {

FurnaceTables furnace_tables(const Furnace& furnace) {
  FurnaceTables out;
  FurnaceModel& model = out.model;
  model.present = true;
  model.blower_w = furnace.blower_w;
  model.heat_loss_w_per_k = furnace.heat_loss_w_per_k;
  model.gains_w = furnace.gains_w;
  model.per_output_w = 1.0 / furnace.output_w;
  model.gains_k = furnace.gains_w / furnace.heat_loss_w_per_k;
  model.output_and_gains_k = (furnace.output_w + furnace.gains_w) / furnace.heat_loss_w_per_k;
  model.has_other_heat = furnace.other_heat_c.has_value();
  model.other_heat_c = furnace.other_heat_c.value_or(0.0);
  for (int h = 0; h < 24; ++h) {
    model.hold_begin[h] = static_cast<int>(out.hold.size());
    double held = 0.0;
    for (const HoldWindow& hold : furnace.hold) {
      const double share = on_grid(share_of_hour(hold.window, h));
      if (share <= 0.0) continue;
      out.hold.push_back({share, hold.set_point_c});
      held += share;
    }
    model.unheld_share[h] = std::max(0.0, 1.0 - held);
  }
  model.hold_begin[24] = static_cast<int>(out.hold.size());
  return out;
}

}  // namespace dullspell
