#include <catch2/catch.hpp>

#include "tests/support/one_hour.hpp"

using namespace dullspell;

namespace {

// Of the capacity at 25 C.
double cold_capacity_share(double cell_c) {
  Battery battery;
  battery.capacity_wh = 1.0;
  return 1.0 - cut_off_wh(battery, cell_c);
}

}  // namespace

TEST_CASE("cold lithium gives what the trade's points say, and in between what lies between") {
  // Trade figures, no source; between them straight lines.
  CHECK(cold_capacity_share(25.0) == Approx(1.00));
  CHECK(cold_capacity_share(10.0) == Approx(0.96));
  CHECK(cold_capacity_share(0.0) == Approx(0.88));
  CHECK(cold_capacity_share(-10.0) == Approx(0.75));
  CHECK(cold_capacity_share(-20.0) == Approx(0.60));
  CHECK(cold_capacity_share(17.5) == Approx(0.98));
  CHECK(cold_capacity_share(-5.0) == Approx(0.815));
  CHECK(cold_capacity_share(-15.0) == Approx(0.675));
  CHECK(cold_capacity_share(5.0) == Approx(0.92));
}

TEST_CASE("the cold share stays where it is beyond its table and never falls on warming") {
  CHECK(cold_capacity_share(-60.0) == Approx(0.60).epsilon(1e-15));
  CHECK(cold_capacity_share(60.0) == 1.0);
  for (double c = -40.0; c < 40.0; c += 0.25) {
    CHECK(cold_capacity_share(c + 0.25) >= cold_capacity_share(c) - 1e-12);
  }
}

TEST_CASE("two lithium chemistries are known, others are not") {
  REQUIRE(chemistry_preset("lfp"));
  CHECK(chemistry_preset("lfp")->charge_efficiency == 0.98);
  CHECK(chemistry_preset("lfp")->discharge_efficiency == 0.98);
  REQUIRE(chemistry_preset("nmc"));
  CHECK(chemistry_preset("nmc")->taper_from < chemistry_preset("lfp")->taper_from);
  CHECK_FALSE(chemistry_preset("agm"));
  CHECK_FALSE(chemistry_preset("LFP"));
}
