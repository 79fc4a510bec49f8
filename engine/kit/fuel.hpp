#pragma once

namespace dullspell {

/// What a generator burns.
enum class Fuel { gasoline, diesel, propane };

const char* to_string(Fuel fuel);

/// Propane is bought by weight; what is burnt of it is reckoned as liters of liquid, as with the
/// other fuels. About 4.2 lb a US gallon at 60 F, which is 0.50 to 0.51 kg/L: common practice, no
/// source. Weights that go in and come out do not depend on it.
constexpr double kPropane_kg_per_l = 0.51;

constexpr double propane_l(double kg) {
  return kg / kPropane_kg_per_l;
}
constexpr double propane_kg(double litres) {
  return litres * kPropane_kg_per_l;
}

/// What a small set burns: a part for turning, by its rating, and a part by what it feeds.
struct FuelUse {
  double l_per_h_idle_per_kw;  ///< L/h for each kW of its rating
  double l_per_kwh;            ///< L more for each kWh
};

/// Where a plan does not say. Gasoline: common practice, no source; by 32.4 MJ/L 24 % efficient at
/// full load and 17 % at a third. Propane: the same engine fed with the same energy, by 46.3 MJ/kg
/// (lower heating values both; that of gasoline from memory). Diesel: O. Skarstein and K. Uhlen,
/// "Design considerations with respect to long-term diesel saving in wind/diesel plants", Wind
/// Engineering 13 (1989), from memory.
FuelUse usual_fuel_use(Fuel fuel);

}  // namespace dullspell
