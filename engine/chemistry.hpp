#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace dullspell {

/// What a kind of cell sets unless a plan says otherwise (common practice, data-sheet ranges).
struct ChemistryPreset {
  std::string name;
  double usable_share;          ///< of the label's capacity
  double charge_efficiency;     ///< stored over taken in
  double discharge_efficiency;  ///< given out over taken from store
  double charge_limit_c;        ///< per hour, in units of capacity
  double discharge_limit_c;
  double taper_from;                ///< state of charge at which acceptance begins to fall
  double taper_to_c;                ///< acceptance at full
  double charge_min_c;              ///< coldest cell that may be charged, C
  double self_discharge_per_month;  ///< share of what is stored
};

/// Preset by name ("lfp", "nmc"); nothing for other names.
std::optional<ChemistryPreset> chemistry_preset(std::string_view name);

/// Share of the capacity at 25 C that a cold lithium battery still gives, every 5 K from -20 C on;
/// the trade's points lie on this grid (10 C 0.96, 0 C 0.88, -10 C 0.75).
inline constexpr std::array kColdShare{
    0.60, 0.675, 0.75, 0.815, 0.88, 0.92, 0.96, 0.96 + 0.04 / 3.0, 0.96 + 0.08 / 3.0, 1.00};
constexpr double kColdShareFrom_c = -20.0;
constexpr double kColdSharePoints_per_k = 0.2;

/// Share of the capacity at 25 C that a cold lithium battery still gives, from 0.60 at -20 C to 1
/// at 25 C; linear between the points of kColdShare and constant beyond.
double cold_capacity_share(double cell_c);

}  // namespace dullspell
