#pragma once

#include <optional>
#include <vector>

#include "engine/kit/generator_model.hpp"
#include "weather/clock.hpp"

namespace dullspell {

struct Generator {
  double rated_w = 0.0;
  double charger_w = 0.0;  ///< into the battery
  double charger_efficiency = 0.88;
  GeneratorRule rule = GeneratorRule::night;
  double start_below = 0.3;  ///< rule `below`
  double stop_at = 0.8;
  double night_margin = 0.25;  ///< rule `night`
  double min_run_h = 1.0;
  std::vector<ClockWindow> allowed;
  double fuel_l_per_h_idle = 0.0;
  double fuel_l_per_kwh = 0.0;
  std::optional<double> tank_l;
};

/// Rated power at a height, W: manuals take 3.5 % off per 305 m above the first 305 m, down to 0.3.
double derated_w(const Generator& generator, double elevation_m);

/// For the hour's arithmetic, beside a battery that holds `usable_wh`.
GeneratorModel generator_model(const Generator& generator, double usable_wh);

/// Power at a mains connection through a charger.
OutsidePower mains_power(double charger_w);

}  // namespace dullspell
