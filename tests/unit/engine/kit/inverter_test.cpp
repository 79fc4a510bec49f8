#include <catch2/catch.hpp>

#include "engine/kit/inverter.hpp"

using namespace dullspell;

TEST_CASE("an inverter's loss goes through two efficiency points that fit its standby") {
  const Inverter fitted = fit_inverter(2000.0, 14.0, {{0.1, 0.90}, {1.0, 0.88}});
  CHECK(fitted.efficiency(200.0) == Approx(0.90));
  CHECK(fitted.efficiency(2000.0) == Approx(0.88));
  // By hand: 1/0.90 - 1 - 14/200 = v + 0.1 r; 1/0.88 - 1 - 14/2000 = v + r.
  const double at_tenth = 1.0 / 0.90 - 1.07, at_full = 1.0 / 0.88 - 1.007;
  CHECK(fitted.quadratic == Approx((at_full - at_tenth) / 0.9));
  CHECK(fitted.linear == Approx(at_tenth - 0.1 * fitted.quadratic));
}

TEST_CASE("an inverter's loss is standby, a part linear and a part quadratic in its output") {
  const Inverter inverter{1000.0, 10.0, 0.02, 0.08, {}};
  CHECK(inverter.loss_w(0.0) == 10.0);
  CHECK(inverter.loss_w(500.0) == Approx(10.0 + 10.0 + 20.0));
  CHECK(inverter.efficiency(500.0) == Approx(500.0 / 540.0));
}

TEST_CASE("three points that a smooth loss makes give back that loss") {
  const Inverter truth{1500.0, 12.0, 0.013, 0.07, {}};
  std::vector<EfficiencyPoint> points;
  for (const double share : {0.1, 0.5, 1.0}) {
    points.push_back({share, truth.efficiency(share * truth.rated_w)});
  }
  const Inverter fitted = fit_inverter(1500.0, 12.0, points);
  CHECK(fitted.linear == Approx(0.013));
  CHECK(fitted.quadratic == Approx(0.07));
}

TEST_CASE("no part of a fitted loss is negative") {
  // Efficiency that grows with the load beyond what standby explains.
  const Inverter growing = fit_inverter(1000.0, 5.0, {{0.2, 0.85}, {1.0, 0.93}});
  CHECK(growing.quadratic == 0.0);
  CHECK(growing.linear > 0.0);
  // Efficiency at part load that leaves no room for a linear part.
  const Inverter falling = fit_inverter(1000.0, 20.0, {{0.1, 0.83}, {1.0, 0.80}});
  CHECK(falling.linear == 0.0);
  CHECK(falling.quadratic > 0.0);
  // A standby that explains more than the whole loss.
  const Inverter perfect = fit_inverter(1000.0, 200.0, {{0.5, 0.99}});
  CHECK(perfect.linear == 0.0);
  CHECK(perfect.quadratic == 0.0);
}

TEST_CASE("one point gives a linear loss, none gives standby alone") {
  const Inverter one = fit_inverter(1000.0, 10.0, {{0.5, 0.90}});
  CHECK(one.efficiency(500.0) == Approx(0.90));
  CHECK(one.quadratic == 0.0);
  CHECK(fit_inverter(1000.0, 10.0, {}).loss_w(800.0) == 10.0);
}
