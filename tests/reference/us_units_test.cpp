#include "weather/us_units.hpp"

#include <boost/units/absolute.hpp>
#include <boost/units/base_units/us/foot.hpp>
#include <boost/units/base_units/us/gallon.hpp>
#include <boost/units/base_units/us/inch.hpp>
#include <boost/units/base_units/us/mile.hpp>
#include <boost/units/base_units/us/pound.hpp>
#include <boost/units/conversion.hpp>
#include <boost/units/quantity.hpp>
#include <boost/units/systems/si/length.hpp>
#include <boost/units/systems/si/mass.hpp>
#include <boost/units/systems/si/volume.hpp>
#include <boost/units/systems/temperature/celsius.hpp>
#include <boost/units/systems/temperature/fahrenheit.hpp>
#include <catch2/catch.hpp>

using namespace dullspell;
namespace units = boost::units;

// Against Boost.Units, a general-purpose library, whose factors are of its own.
TEST_CASE("lengths, weights and volumes are those of a library of units") {
  const auto same = [](double ours, double theirs) {
    CHECK(ours == Approx(theirs).epsilon(1e-12));
  };
  using units::conversion_factor;
  same(kFoot.to_metric(1.0),
       conversion_factor(units::us::foot_base_unit::unit_type(), units::si::meter));
  same(kInchInCm.to_metric(1.0),
       100.0 * conversion_factor(units::us::inch_base_unit::unit_type(), units::si::meter));
  same(kInchInMm.to_metric(1.0),
       1000.0 * conversion_factor(units::us::inch_base_unit::unit_type(), units::si::meter));
  same(kMile.to_metric(1.0),
       conversion_factor(units::us::mile_base_unit::unit_type(), units::si::meter) / 1000.0);
  same(kPound.to_metric(1.0),
       conversion_factor(units::us::pound_base_unit::unit_type(), units::si::kilogram));
  // The library has the gallon in seven digits; by the definition it is 231 of its cubic inches.
  const double gallon_l =
      1000.0 * conversion_factor(units::us::gallon_base_unit::unit_type(), units::si::cubic_meter);
  CHECK(kGallon.to_metric(1.0) == Approx(gallon_l).margin(5e-7));
  const double inch_dm =
      10.0 * conversion_factor(units::us::inch_base_unit::unit_type(), units::si::meter);
  same(kGallon.to_metric(1.0), 231.0 * inch_dm * inch_dm * inch_dm);
}

TEST_CASE("temperatures and their differences are those of a library of units") {
  using Fahrenheit = units::absolute<units::fahrenheit::temperature>;
  using Celsius = units::absolute<units::celsius::temperature>;
  for (const double f : {-40.0, -4.0, 0.0, 32.0, 57.2, 98.6, 212.0}) {
    const units::quantity<Celsius> absolute(f * Fahrenheit());
    CHECK(kFahrenheit.to_metric(f) == Approx(absolute.value()).margin(1e-9));
    CHECK(kFahrenheit.from_metric(kFahrenheit.to_metric(f)) == Approx(f).margin(1e-12));
    const units::quantity<units::celsius::temperature> step(f * units::fahrenheit::degree);
    CHECK(kFahrenheitStep.to_metric(f) == Approx(step.value()).margin(1e-9));
  }
}

// NIST SP 811, appendix B.8, seven digits each, from memory: Btu_IT per hour 2.930711 E-01 W;
// Btu_IT per hour, square foot and degree Fahrenheit 5.678263 W/(m2 K).
TEST_CASE("heat is that of the published table") {
  CHECK(kBtuPerHour.to_metric(1.0) == Approx(0.2930711).margin(5e-8));
  const double foot_m = kFoot.to_metric(1.0);
  CHECK(kBtuPerHourAndStep.to_metric(1.0) / (foot_m * foot_m) == Approx(5.678263).margin(5e-7));
  // The International Table's calorie of 4.1868 J, for a pound in grams and a degree Fahrenheit.
  const double btu_j = 4.1868 * 1000.0 * kPound.to_metric(1.0) * kFahrenheitStep.to_metric(1.0);
  CHECK(btu_j == Approx(1055.05585262).epsilon(1e-14));
  CHECK(kBtuPerHour.to_metric(3600.0) == Approx(btu_j).epsilon(1e-14));
}
