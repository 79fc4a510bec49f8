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
  constexpr double last = static_cast<double>(kColdShare.size() - 1);
  const double position = (cell_c - kColdShareFrom_c) * kColdSharePoints_per_k;
  const double clipped = position < 0.0 ? 0.0 : position > last ? last : position;
  const std::size_t cell = std::min(static_cast<std::size_t>(clipped), kColdShare.size() - 2);
  return kColdShare[cell] +
         (clipped - static_cast<double>(cell)) * (kColdShare[cell + 1] - kColdShare[cell]);
}

}  // namespace dullspell
