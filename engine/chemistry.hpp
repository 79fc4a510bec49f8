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

/// Straight line over the cell's temperature.
struct ColdLine {
  double at_0_c, per_k;
};

/// Lines through the trade's points of the capacity that a cold lithium battery still gives: 0.60
/// at -20 C, 0.75 at -10 C, 0.88 at 0 C, 0.96 at 10 C, 1.00 at 25 C.
inline constexpr std::array kColdLines{ColdLine{0.90, 0.015}, ColdLine{0.88, 0.013},
                                       ColdLine{0.88, 0.008},
                                       ColdLine{0.96 - 10.0 * 0.04 / 15.0, 0.04 / 15.0}};
constexpr double kColdestShare = 0.60;

/// Share of the capacity at 25 C that a cold lithium battery still gives: the lowest of kColdLines,
/// constant below -20 C and above 25 C.
double cold_capacity_share(double cell_c);

}  // namespace dullspell
