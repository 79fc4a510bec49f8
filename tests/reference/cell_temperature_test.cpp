#include <catch2/catch.hpp>

#include "engine/kit/panels.hpp"
#include "tests/support/reference_table.hpp"

using namespace dullspell;

TEST_CASE("cells are as warm as the form by Ross says at a nominal temperature of 45 C") {
  const int rows =
      for_each_row("cell_temperature.csv", {"poa_W_m2", "t_air_C", "ross_noct45_C"},
                   [](double irradiance, double air_c, double cell_c) {
                     CHECK(cell_temperature_c(irradiance, air_c) == Approx(cell_c).margin(1e-5));
                   });
  CHECK(rows == 112);
}
