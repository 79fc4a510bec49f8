#include "engine/chemistry.hpp"

#include <array>

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

double cold_capacity_share(double cell_c) {
  // Every 5 K from -20 to 25 C; the trade's points lie on this grid.
  constexpr std::array share{
      0.60, 0.675, 0.75, 0.815, 0.88, 0.92, 0.96, 0.96 + 0.04 / 3.0, 0.96 + 0.08 / 3.0, 1.00};
  constexpr double coldest_c = -20.0, step_c = 5.0;
  constexpr double last = static_cast<double>(share.size() - 1);
  const double position = (cell_c - coldest_c) / step_c;
  const double clipped = position < 0.0 ? 0.0 : position > last ? last : position;
  auto cell = static_cast<std::size_t>(clipped);
  if (cell + 1 >= share.size()) cell = share.size() - 2;
  return share[cell] + (clipped - static_cast<double>(cell)) * (share[cell + 1] - share[cell]);
}

}  // namespace dullspell
