#pragma once

#include "engine/hour/number.hpp"

namespace dullspell {

/// Power from outside while it runs: a generator or the mains.
struct OutsidePower {
  double charger_w = 0.0;         ///< into the direct-current side
  double ac_limit_w = kInfinite;  ///< for loads and charger together, before the charger's loss
  double charger_efficiency = 1.0;
  bool carries_dc = false;  ///< the mains charger carries direct-current loads on top
};

/// A generator as the hour's arithmetic takes it.
struct GeneratorModel {
  bool present = false;
  OutsidePower power;
  double per_charger_efficiency = 1.0;
  double min_run_h = 0.0;
  double fuel_l_per_h_idle = 0.0, fuel_l_per_kwh = 0.0;
};

/// Fuel of an hour in which the generator ran for the share `x`, L.
template <class N>
FORCE_INLINE N fuel_l(const GeneratorModel& generator, N x, N carried_wh, N charger_wh) {
  const N load_kwh = (carried_wh + charger_wh * generator.per_charger_efficiency) * 0.001;
  return x * generator.fuel_l_per_h_idle + load_kwh * generator.fuel_l_per_kwh;
}

}  // namespace dullspell
