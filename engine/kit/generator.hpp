#pragma once

#include <optional>
#include <vector>

#include "engine/kit/fuel.hpp"
#include "engine/kit/generator_model.hpp"
#include "weather/calendar.hpp"
#include "weather/clock.hpp"

namespace dullspell {

/// When a generator runs.
enum class GeneratorRule {
  night,  ///< as late as lasts: found on simulated weather, for each hour of the stay
  below,  ///< below one state of charge, up to another
  levels  ///< below and up to levels stated for single hours
};

/// When a generator runs in one hour of a stay: it starts below one state of charge as the hour
/// begins, and runs up to another, both 0..1.
struct GeneratorLevel {
  Date date{};
  int hour_of_day = 0;
  double start_below = 0.0, stop_at = 0.0;
};

struct Generator {
  double rated_w = 0.0;
  double charger_w = 0.0;  ///< into the battery
  double charger_efficiency = 0.88;
  GeneratorRule rule = GeneratorRule::night;
  double start_below = 0.3;  ///< rule `below`
  double stop_at = 0.8;
  std::vector<GeneratorLevel> levels;  ///< rule `levels`; other hours start none
  double margin = 0.05;  ///< rule `night`: share of the usable energy kept for what a plan forgot
  double min_run_h = 1.0;
  std::vector<ClockWindow> allowed;
  Fuel fuel = Fuel::gasoline;
  double fuel_l_per_h_idle = 0.0;  ///< of propane as of the others: liters of liquid
  double fuel_l_per_kwh = 0.0;
  std::optional<double> tank_l;
};

/// Rated power at a height, W: manuals take 3.5 % off per 305 m above the first 305 m, down to 0.3.
double derated_w(const Generator& generator, double elevation_m);

/// For the hour's arithmetic.
GeneratorModel generator_model(const Generator& generator);

/// Power at a mains connection through a charger.
OutsidePower mains_power(double charger_w);

}  // namespace dullspell
