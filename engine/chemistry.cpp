#include "engine/chemistry.hpp"

#include <algorithm>
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
  double share = 1.0;
  for (const ColdLine& line : kColdLines) {
    share = std::min(share, line.at_0_c + line.per_k * cell_c);
  }
  return std::max(kColdestShare, share);
}

}  // namespace dullspell
