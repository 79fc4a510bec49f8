#include "engine/kit/generator.hpp"

#include <algorithm>

namespace dullspell {

double Derating::kept() const {
  return std::clamp(height * heat * fuel, 0.3, 1.0);
}

Derating derating(const Generator& generator, double elevation_m, double air_c) {
  const bool gasoline_rating =
      generator.fuel == Fuel::propane && generator.rated_on != Fuel::propane;
  return {std::clamp(1.0 - 0.035 * (elevation_m - 305.0) / 305.0, 0.0, 1.0),
          std::clamp(1.0 - 0.02 * (air_c - 29.4) / 5.6, 0.0, 1.0), gasoline_rating ? 0.9 : 1.0};
}

GeneratorModel generator_model(const Generator& generator) {
  GeneratorModel model;
  model.present = true;
  model.power = {generator.charger_w, generator.rated_w, generator.charger_efficiency, false};
  model.per_charger_efficiency = 1.0 / generator.charger_efficiency;
  model.min_run_h = generator.min_run_h;
  model.fuel_l_per_h_idle = generator.fuel_l_per_h_idle;
  model.fuel_l_per_kwh = generator.fuel_l_per_kwh;
  return model;
}

OutsidePower mains_power(double charger_w) {
  return {charger_w, kInfinite, 1.0, true};
}

}  // namespace dullspell
