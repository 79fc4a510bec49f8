#include <catch2/catch.hpp>

#include "engine/kit/panels.hpp"
#include "tests/support/reference_table.hpp"

using namespace dullspell;

// Set A of the table is DullLight::poor, set B DullLight::usual; watts are for a module of 100 W.

namespace {

constexpr double kDigit_w = 6e-6;  // last digit of the table

// Air that brings a module to a temperature.
double air_for(double module_c, double irradiance) {
  return module_c - cell_temperature_c(irradiance, 0.0);
}

double line_w(DullLight kind, double irradiance, double module_c) {
  const ModuleLine line = module_line(kind, irradiance);
  return 100.0 * (line.at_25 + line.per_k * (air_for(module_c, irradiance) - 25.0));
}

}  // namespace

TEST_CASE("modules in dim and strong light give what Huld's form says, with both sets") {
  const int rows =
      for_each_row("pv_efficiency.csv", {"poa_W_m2", "t_module_C", "huldA_P_W", "huldB_P_W"},
                   [](double irradiance, double module_c, double poor_w, double usual_w) {
                     const auto watts = [&](DullLight kind) {
                       return 100.0 * module_power_share(kind, irradiance, module_c);
                     };
                     CHECK(watts(DullLight::poor) == Approx(poor_w).margin(kDigit_w));
                     CHECK(watts(DullLight::usual) == Approx(usual_w).margin(kDigit_w));
                   });
  CHECK(rows == 45);
}

TEST_CASE("the straight line in air temperature is the form itself for usual modules") {
  const int rows = for_each_row(
      "pv_efficiency.csv", {"poa_W_m2", "t_module_C", "huldB_P_W"},
      [](double irradiance, double module_c, double usual_w) {
        CHECK(line_w(DullLight::usual, irradiance, module_c) == Approx(usual_w).margin(kDigit_w));
      });
  CHECK(rows == 45);
}

TEST_CASE("the tangent for poor modules leaves out the square of what is away from 25 C") {
  // Their form has the term G' k6 T'^2 with k6 = 0.000005; T' = 25 C air's cell + d gives the
  // tangent an error of G' k6 d^2.
  const int rows = for_each_row("pv_efficiency.csv", {"poa_W_m2", "t_module_C", "huldA_P_W"},
                                [](double irradiance, double module_c, double poor_w) {
                                  const double away_k = air_for(module_c, irradiance) - 25.0;
                                  const double square_w =
                                      100.0 * irradiance / 1000.0 * 0.000005 * away_k * away_k;
                                  CHECK(line_w(DullLight::poor, irradiance, module_c) ==
                                        Approx(poor_w - square_w).margin(kDigit_w));
                                  // Small in any air that occurs; the table's coldest rows mean -47
                                  // C.
                                  const bool occurs = away_k >= -65.0;
                                  if (occurs) CHECK(square_w <= 0.02 * poor_w);
                                });
  CHECK(rows == 45);
}

TEST_CASE("dim light costs poor modules more than usual ones") {
  // Relative efficiencies at 25 C from the table: 0.6885 and 0.8727 at 50 W/m2.
  for (const double g : {25.0, 50.0, 100.0, 150.0}) {
    CHECK(module_power_share(DullLight::poor, g, 25.0) <
          module_power_share(DullLight::usual, g, 25.0));
  }
  CHECK(module_power_share(DullLight::poor, 50.0, 25.0) / 0.05 == Approx(0.68849).margin(1e-5));
  CHECK(module_power_share(DullLight::usual, 50.0, 25.0) / 0.05 == Approx(0.87266).margin(1e-5));
}
