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
  Fuel rated_on = Fuel::gasoline;  ///< with propane: the fuel that rated_w is stated for
  double charger_w = 0.0;          ///< into the battery
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

/// Shares of its rated power that a generator keeps, 0..1, one for each reason.
struct Derating {
  double height = 1.0, heat = 1.0, fuel = 1.0;

  /// All together; manuals' rules are not meant for less than 0.3.
  double kept() const;
};

/// What manuals take off: 3.5 % for each 305 m above the first 305 m, and 2 % for each 5.6 K of air
/// warmer than 29.4 C (one maker's rule); on propane a tenth, unless the rating is stated for it
/// (common practice, no source).
Derating derating(const Generator& generator, double elevation_m, double air_c);

/// For the hour's arithmetic.
GeneratorModel generator_model(const Generator& generator);

/// Power at a mains connection through a charger.
OutsidePower mains_power(double charger_w);

}  // namespace dullspell
