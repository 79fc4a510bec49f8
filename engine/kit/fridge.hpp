#pragma once

#include <utility>
#include <vector>

#include "engine/kit/cabin_model.hpp"
#include "engine/kit/load.hpp"

namespace dullspell {

/// A compressor fridge.
struct Fridge {
  double running_w = 0.0;
  std::vector<std::pair<double, double>> duty_at;  ///< ambient C, share of time running
  LoadSide side = LoadSide::dc;
};

/// A fridge as FridgeModel needs it: its pieces apart, since a model only points at them.
struct FridgeTables {
  FridgeModel model{};
  std::vector<FridgePiece> pieces;
};

/// `converter_efficiency` is that between the inverter and a fridge on the side dc_via_ac.
FridgeTables fridge_tables(const Fridge& fridge, double converter_efficiency);

}  // namespace dullspell
