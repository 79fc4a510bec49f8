#pragma once

#include <optional>
#include <vector>

#include "engine/kit/cabin_model.hpp"
#include "weather/clock.hpp"

namespace dullspell {

struct HoldWindow {
  ClockWindow window;
  double set_point_c;
};

/// A furnace and the cabin that it heats.
struct Furnace {
  double blower_w = 0.0;
  double output_w = 0.0;
  double heat_loss_w_per_k = 0.0;
  double gains_w = 0.0;  ///< people, lamps, cooking
  std::vector<HoldWindow> hold;
  std::optional<double> other_heat_c;  ///< cabin temperature outside the windows
};

/// A furnace by clock hours, as FurnaceModel needs it: its holds apart, since a model only points
/// at them.
struct FurnaceTables {
  FurnaceModel model{};
  std::vector<HoldShare> hold;
};

FurnaceTables furnace_tables(const Furnace& furnace);

}  // namespace dullspell
