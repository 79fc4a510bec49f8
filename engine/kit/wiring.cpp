#include "engine/kit/wiring.hpp"

#include <cmath>
#include <numbers>

namespace dullspell {
double copper_ohm(double length_m, double area_mm2) {
  constexpr double kCopper_ohm_mm2_m = 0.0175;
  return 2.0 * length_m * kCopper_ohm_mm2_m / area_mm2;
}

double awg_mm2(int gauge) {
  const double diameter_mm = 0.127 * std::pow(92.0, (36.0 - gauge) / 39.0);
  return 0.25 * std::numbers::pi * diameter_mm * diameter_mm;
}

double cable_share(const Wiring& wiring, double watts) {
  return watts * wiring.cable_ohm / (wiring.vmp_v * wiring.vmp_v);
}

}  // namespace dullspell
