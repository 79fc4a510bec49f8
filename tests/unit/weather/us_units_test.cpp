#include "weather/us_units.hpp"

#include <cstdint>
#include <string>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "weather/input/parsed_number.hpp"

using namespace dullspell;

TEST_CASE("a whole number of a US unit is the double that its exact metric digits are read as") {
  struct Exact {
    UsUnit unit;
    std::uint64_t times;
    int digits;  // after the point
  };
  const Exact units[] = {{kFoot, 3048, 4},
                         {kInchInCm, 254, 2},
                         {kInchInMm, 254, 1},
                         {kMile, 1'609'344, 6},
                         {kPound, 45'359'237, 8},
                         {kGallon, 3'785'411'784, 9},
                         {kBtuPerHourAndStep, 52'752'792'631, 11}};
  for (const Exact& exact : units) {
    for (std::uint64_t n = 0; n <= 100'000; n += n < 2000 ? 1 : 97) {
      std::string text = fmt::format("{:0{}}", exact.times * n, exact.digits + 1);
      text.insert(text.size() - static_cast<std::size_t>(exact.digits), ".");
      const double metric = exact.unit.to_metric(static_cast<double>(n));
      if (metric != *parsed_number(text)) FAIL_CHECK(text);
    }
  }
  CHECK(kFoot.to_metric(5000.0) == 1524.0);
}

TEST_CASE("a temperature keeps its offset both ways, a difference has none") {
  CHECK(kFahrenheit.to_metric(32.0) == 0.0);
  CHECK(kFahrenheit.to_metric(212.0) == 100.0);
  CHECK(kFahrenheit.to_metric(-40.0) == -40.0);
  CHECK(kFahrenheit.to_metric(57.2) == 14.0);
  CHECK(kFahrenheit.from_metric(-20.0) == -4.0);
  CHECK(kFahrenheitStep.to_metric(18.0) == 10.0);
  CHECK(kFahrenheitStep.from_metric(10.0) == 18.0);
}
