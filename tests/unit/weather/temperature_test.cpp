#include <catch2/catch.hpp>

#include "weather/temperature.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;

TEST_CASE("The air is warmest at 15:00 solar time, and its swing averages out") {
  CHECK(temperature_swing(15.0) == 0.5);
  CHECK_THAT(temperature_swing(3.0), WithinAbs(-0.5, 1e-15));
  double sum = 0.0;
  for (int hour = 0; hour < 24; ++hour) sum += temperature_swing(hour + 0.5);
  CHECK_THAT(sum, WithinAbs(0.0, 1e-12));
  CHECK_THAT(temperature_swing(27.0), WithinAbs(temperature_swing(3.0), 1e-12));
}

TEST_CASE("The independent part of the temperature makes up what the sky does not carry") {
  constexpr double kWhole = 0.6, kCorrelation = -0.4, kSkyLag1 = 0.3;
  const double independent = independent_temperature_persistence(kWhole, kCorrelation, kSkyLag1);
  const double shared = kCorrelation * kCorrelation;
  CHECK_THAT(shared * kSkyLag1 + (1.0 - shared) * independent, WithinAbs(kWhole, 1e-15));
  CHECK(independent_temperature_persistence(kWhole, 0.0, kSkyLag1) == kWhole);
}

TEST_CASE("The independent persistence is held where no sequence could have more") {
  CHECK(independent_temperature_persistence(0.95, 0.9, 0.0) == 0.95);
  CHECK(independent_temperature_persistence(-0.3, 0.9, 0.9) == -0.95);
}

}  // namespace
}  // namespace dullspell
