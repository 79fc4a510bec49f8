#include "engine/kit/generator.hpp"

#include <catch2/catch.hpp>

using namespace dullspell;

namespace {

Generator generator_on(Fuel fuel, Fuel rated_on = Fuel::gasoline) {
  Generator generator;
  generator.rated_w = 1000.0;
  generator.fuel = fuel;
  generator.rated_on = rated_on;
  return generator;
}

}  // namespace

TEST_CASE("height and heat take what a maker's rule says, and one on top of the other") {
  const Generator generator = generator_on(Fuel::gasoline);
  CHECK(derating(generator, 305.0, 29.4).kept() == 1.0);
  CHECK(derating(generator, -80.0, -20.0).kept() == 1.0);
  // Worked by hand: 2,500 m are 7.197 steps of 305 m above the first, 3.5 % each.
  CHECK(derating(generator, 2500.0, 20.0).kept() == Approx(0.748).margin(0.0005));
  // 35.0 C (95 F) is one step of 5.6 K (10 F) above 29.4 C (85 F), 40.6 C (105 F) two.
  CHECK(derating(generator, 0.0, 35.0).kept() == Approx(0.98));
  CHECK(derating(generator, 0.0, 40.6).kept() == Approx(0.96));
  CHECK(derating(generator, 2500.0, 40.6).kept() == Approx(0.748 * 0.96).margin(0.0005));
  CHECK(derating(generator, 9000.0, 20.0).kept() == 0.3);
}

TEST_CASE("on propane a set rated on gasoline gives a tenth less") {
  CHECK(derating(generator_on(Fuel::propane), 0.0, 20.0).kept() == 0.9);
  CHECK(derating(generator_on(Fuel::propane, Fuel::propane), 0.0, 20.0).kept() == 1.0);
  CHECK(derating(generator_on(Fuel::diesel), 0.0, 20.0).kept() == 1.0);
}
