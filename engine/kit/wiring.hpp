#pragma once

#include <optional>

namespace dullspell {

/// How the power of a group of panels comes to the battery, where a plan states it.
struct Wiring {
  double vmp_v = 0.0;      ///< of its string, at greatest power and 25 C
  double cable_ohm = 0.0;  ///< there and back
  /// Voltage of the battery that holds the panels at its own, by a controller that switches (PWM);
  /// nothing, one that finds their greatest power (MPPT).
  std::optional<double> pwm_battery_v;
};

/// Copper there and back, ohm: 2 length 0.0175 ohm mm2/m / area, at 20 C (IEC 60028 has 0.01724 for
/// annealed copper).
double copper_ohm(double length_m, double area_mm2);

/// Cross-section of an American wire gauge, 0 to 24, mm2: diameter 0.127 mm 92^((36 - n) / 39)
/// (ASTM B258).
double awg_mm2(int gauge);

/// Share of so many watts that the cable takes, I^2 R of I = W / vmp_v.
double cable_share(const Wiring& wiring, double watts);

}  // namespace dullspell
