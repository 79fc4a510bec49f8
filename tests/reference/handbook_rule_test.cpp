#include <catch2/catch.hpp>

#include "tests/calibration/handbook_rule.hpp"

using namespace dullspell::calibration;

// Worked by hand, an example of our own: 1,200 Wh a day for 3 days are 3,600 Wh; of a battery 0.8
// may be used and 0.9 is left in the cold, 0.72 together: 5,000 Wh. 4 peak sun hours at 0.75 are 3
// Wh a day for each rated watt: 400 W, and 480 W for 1.2 times the load.
TEST_CASE("the days of autonomy method gives the worked example") {
  HandbookRule rule{1200.0, 3.0, 4.0};
  rule.temperature_factor = 0.9;
  CHECK(rule.battery_wh() == Approx(5'000.0));
  CHECK(rule.panels_w() == Approx(480.0));
  rule.array_to_load = 1.0;
  CHECK(rule.panels_w() == Approx(400.0));
}

// The handbook's lines at 4 peak sun hours, by hand: 18.3 - 7.6 and 4.58 - 1.92.
TEST_CASE("days of autonomy fall with the sun of the dullest month") {
  CHECK(critical_autonomy_days(4.0) == Approx(10.7));
  CHECK(usual_autonomy_days(4.0) == Approx(2.66));
  CHECK(critical_autonomy_days(6.0) < critical_autonomy_days(3.0));
}
