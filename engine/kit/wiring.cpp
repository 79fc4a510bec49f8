#include "engine/kit/wiring.hpp"

#include <cmath>
#include <numbers>

#include "engine/kit/panels.hpp"

namespace dullspell {
namespace {

// Of the current at greatest power. Common practice, no source: data sheets have 0.04 to 0.06 %.
constexpr double kCurrent_per_k = 0.0005;

// At the battery's voltage a module gives the current that its light makes.
WiredLine at_battery_voltage(const Wiring& wiring, double irradiance_w_m2) {
  const double rated_share = *wiring.pwm_battery_v / wiring.vmp_v * irradiance_w_m2 / 1000.0;
  const double rise_k = cell_temperature_c(irradiance_w_m2, 0.0);
  return {rated_share * (1.0 + kCurrent_per_k * rise_k), rated_share * kCurrent_per_k};
}

}  // namespace

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

WiredLine through_wiring(const Wiring& wiring, double rated_w, double irradiance_w_m2, double at_25,
                         double per_k) {
  const double taken = cable_share(wiring, rated_w * at_25);
  const WiredLine at_greatest{at_25 * (1.0 - taken), per_k * (1.0 - 2.0 * taken)};
  if (!wiring.pwm_battery_v) return at_greatest;
  const WiredLine switched = at_battery_voltage(wiring, irradiance_w_m2);
  return switched.at_25 < at_greatest.at_25 ? switched : at_greatest;
}

}  // namespace dullspell
