#include <algorithm>
#include <cmath>
#include <numbers>

#include <boost/math/distributions/normal.hpp>
#include <catch2/catch.hpp>

#include "weather/clearness_table.hpp"
#include "weather/grid_rounding.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

const ClearnessTable& uniform_table() {
  static const ClearnessTable table{QuantileClearness(kQuantileProbabilities)};
  return table;
}

const ClearnessTable& dull_table() {
  static const ClearnessTable table{BetaClearness(0.30, 0.18)};
  return table;
}

const ClearnessTable& clear_table() {
  static const ClearnessTable table{HollandsHugetClearness(0.65)};
  return table;
}

TEST_CASE("The normal distribution and its quantile agree with Boost's and are inverse") {
  const boost::math::normal_distribution<> normal;
  for (const double chi : {-8.0, -6.0, -2.5, -1.0, 0.0, 0.3, 1.96, 5.0}) {
    INFO("chi " << chi);
    CHECK_THAT(standard_normal_cdf(chi), WithinRel(cdf(normal, chi), 1e-13));
    CHECK_THAT(standard_normal_quantile(standard_normal_cdf(chi)), WithinAbs(chi, 1e-9));
  }
  CHECK_THAT(standard_normal_quantile(0.975), WithinAbs(1.959963984540054, 1e-14));
}

TEST_CASE("The table follows the quantile function within 1e-4") {
  // Straight lines between points 12/256 apart err by 2.7e-4 of the curvature, which is below 0.3.
  for (const ClearnessDistribution& distribution :
       {ClearnessDistribution(BetaClearness(0.30, 0.18)),
        ClearnessDistribution(HollandsHugetClearness(0.65)),
        ClearnessDistribution(HollandsHugetClearness(0.10)),
        ClearnessDistribution(BetaClearness(0.72, 0.07)),
        ClearnessDistribution(QuantileClearness(kQuantileProbabilities))}) {
    const ClearnessTable table(distribution);
    double worst = 0.0, before = -1.0;
    for (double chi = -6.0; chi <= 6.0; chi += 0.0037) {
      const double k = table(chi);
      worst = std::max(worst, std::abs(k - quantile(distribution, standard_normal_cdf(chi))));
      CHECK(k >= before);
      before = k;
    }
    INFO("mean " << mean(distribution));
    CHECK(worst < 1e-4);
    CHECK_THAT(table.mean(), WithinAbs(mean(distribution), 1e-4));
    CHECK_THAT(table.sd(), WithinAbs(sd(distribution), 1e-4));
  }
}

TEST_CASE("Mean and spread of a table are those of its broken line within 1e-6") {
  // A sum over steps of 2e-5, far below the table's own.
  double weights = 0.0, mean = 0.0, square = 0.0;
  for (double chi = -8.0; chi < 8.0; chi += 2e-5) {
    const double weight = std::exp(-0.5 * chi * chi), k = dull_table()(chi);
    weights += weight;
    mean += weight * k;
    square += weight * k * k;
  }
  mean /= weights;
  CHECK_THAT(dull_table().mean(), WithinAbs(mean, 1e-6));
  CHECK_THAT(dull_table().sd(), WithinAbs(std::sqrt(square / weights - mean * mean), 1e-6));
}

TEST_CASE("The table holds its end values beyond six deviations") {
  CHECK(dull_table()(-6.0) == dull_table().values()[0]);
  CHECK(dull_table()(-50.0) == dull_table()(-6.0));
  CHECK(dull_table()(6.0) == dull_table().values()[ClearnessTable::kCells]);
  CHECK(dull_table()(50.0) == dull_table()(6.0));
}

TEST_CASE("Blending mixes quantile functions, and means with them") {
  const ClearnessTable blended = ClearnessTable::blend(dull_table(), clear_table(), 0.25);
  for (const double chi : {-3.0, -0.4, 0.0, 2.2}) {
    CHECK_THAT(blended(chi),
               WithinAbs(0.75 * dull_table()(chi) + 0.25 * clear_table()(chi), 1e-15));
  }
  CHECK_THAT(blended.mean(), WithinAbs(0.75 * 0.30 + 0.25 * 0.65, 1e-4));
}

TEST_CASE("A moved table has every value at its distance from the new centre, within 0..1") {
  const ClearnessTable moved = dull_table().moved(0.30, 0.35, 2.0);
  for (const double chi : {-0.5, 0.0, 0.3, 1.0, 1.4}) {
    CHECK_THAT(moved(chi), WithinAbs(0.35 + 2.0 * (dull_table()(chi) - 0.30), 1e-3));
  }
  CHECK(moved(-6.0) == 0.0);
  CHECK(moved(6.0) == 1.0);
  CHECK_THAT(clear_table().moved(0.65, 0.60, 1.0).mean(), WithinAbs(0.60, 1e-4));
  CHECK_THAT(clear_table().moved(0.65, 0.65, 0.5).sd(), WithinRel(0.5 * clear_table().sd(), 1e-6));
}

TEST_CASE("A rounded table stands on the common grid, within half a step of the exact one") {
  const ClearnessTable rounded = dull_table().rounded();
  for (std::size_t i = 0; i <= ClearnessTable::kCells; ++i) {
    CHECK(rounded.values()[i] * 65536.0 == std::round(rounded.values()[i] * 65536.0));
    CHECK(std::abs(rounded.values()[i] - dull_table().values()[i]) <= 0.5 / 65536.0);
  }
  CHECK(on_grid(1.0 / 3.0) == 21845.0 / 65536.0);
}

TEST_CASE("The correlation of two uniform clearnesses is 6 / pi asin(r / 2)") {
  // Pearson 1907, On further methods of determining correlation: the grade correlation of two
  // normal variables. The table's straight lines cost less than 1e-3 of the spread.
  for (const double r : {-0.5, 0.0, 0.29, 0.6, 0.95}) {
    INFO("correlation " << r);
    CHECK_THAT(clearness_correlation(uniform_table(), uniform_table(), r),
               WithinAbs(6.0 / std::numbers::pi * std::asin(0.5 * r), 1e-3));
  }
}

TEST_CASE("A clearness correlates with itself fully, and less than its deviates otherwise") {
  CHECK_THAT(clearness_correlation(dull_table(), dull_table(), 1.0), WithinAbs(1.0, 1e-9));
  CHECK_THAT(clearness_correlation(dull_table(), clear_table(), 0.0), WithinAbs(0.0, 1e-9));
  // Lancaster 1957: no pair of functions of two normal variables correlates more than these do.
  const double found = clearness_correlation(dull_table(), clear_table(), 0.29);
  CHECK(found < 0.29);
  CHECK(found > 0.20);
  CHECK_THAT(clearness_correlation(clear_table(), dull_table(), 0.29), WithinAbs(found, 1e-6));
}

}  // namespace
}  // namespace dullspell
