#include <catch2/catch.hpp>

#include "engine/kit/fuel.hpp"

using namespace dullspell;

namespace {

// Lower heating values, MJ/L, of gasoline and diesel as they are sold: 116,090 and 128,488 BTU a US
// gallon, US Department of Energy, Alternative Fuels Data Center, "Fuel Properties Comparison",
// from memory.
constexpr double kMjPerBtuGallon = 1055.06e-6 / 3.785411784;
constexpr double kGasoline_mj_per_l = 116'090 * kMjPerBtuGallon;
constexpr double kDiesel_mj_per_l = 128'488 * kMjPerBtuGallon;

// Propane, MJ/kg, from heats of formation in kJ/mol: -104.7 of propane, -393.51 of carbon dioxide,
// -241.83 of steam (CODATA key values and the NIST Chemistry WebBook, from memory), and 44.096
// g/mol.
constexpr double kPropane_mj_per_kg = (3 * 393.51 + 4 * 241.83 - 104.7) / 44.096;

double efficiency(double load_kw, double rated_kw, const FuelUse& use, double mj_per_l) {
  const double litres = use.l_per_h_idle_per_kw * rated_kw + use.l_per_kwh * load_kw;
  return 3.6 * load_kw / (litres * mj_per_l);
}

}  // namespace

TEST_CASE("heating values are those of the tables, all with the water as steam") {
  CHECK(kGasoline_mj_per_l == Approx(32.4).epsilon(0.005));
  CHECK(kDiesel_mj_per_l == Approx(35.8).epsilon(0.005));
  CHECK(kPropane_mj_per_kg == Approx(46.4).epsilon(0.005));
}

TEST_CASE("a set on propane takes the energy that it takes of gasoline") {
  const FuelUse gasoline = usual_fuel_use(Fuel::gasoline);
  const FuelUse propane = usual_fuel_use(Fuel::propane);
  // The defaults in kilograms have three digits.
  CHECK(propane_kg(propane.l_per_h_idle_per_kw) * kPropane_mj_per_kg ==
        Approx(gasoline.l_per_h_idle_per_kw * kGasoline_mj_per_l).epsilon(0.007));
  CHECK(propane_kg(propane.l_per_kwh) * kPropane_mj_per_kg ==
        Approx(gasoline.l_per_kwh * kGasoline_mj_per_l).epsilon(0.007));
}

TEST_CASE("small sets turn a fifth to a third of the fuel into power, and less at part load") {
  // Common practice, no source: gasoline 20 to 25 % at full load, diesel 28 to 33 %.
  const double propane_mj_per_l = kPropane_mj_per_kg * kPropane_kg_per_l;
  const FuelUse gasoline = usual_fuel_use(Fuel::gasoline), diesel = usual_fuel_use(Fuel::diesel),
                propane = usual_fuel_use(Fuel::propane);
  const double full = efficiency(2.0, 2.0, gasoline, kGasoline_mj_per_l);
  CHECK((full > 0.20 && full < 0.25));
  CHECK(efficiency(2.0, 2.0, propane, propane_mj_per_l) == Approx(full).epsilon(0.01));
  const double full_diesel = efficiency(2.0, 2.0, diesel, kDiesel_mj_per_l);
  CHECK((full_diesel > 0.28 && full_diesel < 0.33));
  CHECK(efficiency(0.5, 2.0, gasoline, kGasoline_mj_per_l) < 0.7 * full);
}

TEST_CASE("a cylinder of 20 lb holds 4.7 gallons of liquid propane") {
  // As cylinders are sold in the US: common practice, no source.
  CHECK(propane_l(20 * 0.45359237) / 3.785411784 == Approx(4.7).epsilon(0.01));
}
