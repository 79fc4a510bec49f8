#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

#include <boost/math/quadrature/gauss_kronrod.hpp>

#include "tests/support/reference_table.hpp"
#include "weather/clearness_distribution.hpp"
#include "weather/clearness_table.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

struct Moments {
  double mean;
  double sd;
};

// Mean and spread as integrals of the quantile function over probability Phi(x); beyond |x| = 7
// lies a probability of 3e-12.
template <class Distribution>
Moments integrated(const Distribution& distribution) {
  const auto moment = [&](int order) {
    return boost::math::quadrature::gauss_kronrod<double, 61>::integrate(
        [&](double x) {
          const double density = std::exp(-0.5 * x * x) / std::sqrt(2.0 * std::numbers::pi);
          return density * std::pow(distribution.quantile(standard_normal_cdf(x)), order);
        },
        -7.0, 7.0, 10, 1e-9);
  };
  const double mean = moment(1);
  return {mean, std::sqrt(moment(2) - mean * mean)};
}

TEST_CASE("Hollands and Huget's distribution has the tabulated slope, quantiles and spread") {
  constexpr double kLastDigit = 1e-5;
  const int rows = for_each_row(
      "kt_distribution_hollands_huget.csv",
      {"K_mean", "kmax", "lambda_exact", "lambda_fit", "q01", "q05", "q10", "q25", "q50", "q75",
       "q90", "sd"},
      [&](double k_mean, double k_max, double lambda, double published_lambda, double q01,
          double q05, double q10, double q25, double q50, double q75, double q90, double sd) {
        const HollandsHugetClearness ramp(k_mean);
        CHECK_THAT(ramp.k_max(), WithinAbs(k_max, kLastDigit));
        CHECK_THAT(ramp.lambda(), WithinAbs(lambda, kLastDigit));
        // The paper's fit of lambda leaves the mean wrong by up to 2e-4, which is 0.01 in lambda.
        CHECK_THAT(ramp.lambda(), WithinAbs(published_lambda, 0.01));
        CHECK_THAT(ramp.quantile(0.01), WithinAbs(q01, kLastDigit));
        CHECK_THAT(ramp.quantile(0.05), WithinAbs(q05, kLastDigit));
        CHECK_THAT(ramp.quantile(0.10), WithinAbs(q10, kLastDigit));
        CHECK_THAT(ramp.quantile(0.25), WithinAbs(q25, kLastDigit));
        CHECK_THAT(ramp.quantile(0.50), WithinAbs(q50, kLastDigit));
        CHECK_THAT(ramp.quantile(0.75), WithinAbs(q75, kLastDigit));
        CHECK_THAT(ramp.quantile(0.90), WithinAbs(q90, kLastDigit));
        CHECK_THAT(ramp.sd(), WithinAbs(sd, kLastDigit));
      });
  CHECK(rows == 9);
}

TEST_CASE("Hollands and Huget's distribution keeps its mean over the whole range of means") {
  for (const double k_mean : {0.02, 0.05, 0.12, 0.1950, 0.1951, 0.25, 0.45, 0.66, 0.75, 0.80}) {
    INFO("mean " << k_mean);
    const HollandsHugetClearness ramp(k_mean);
    const Moments found = integrated(ramp);
    CHECK(ramp.mean() == k_mean);
    CHECK_THAT(found.mean, WithinAbs(k_mean, 1e-7));
    CHECK_THAT(found.sd, WithinAbs(ramp.sd(), 1e-6));
    CHECK(ramp.quantile(0.0) == 0.0);
    CHECK(ramp.quantile(1.0) == ramp.k_max());
  }
}

TEST_CASE("A ramp without exponential is the triangular distribution") {
  // Mean Kmax / 3 makes lambda zero; then F(K) = 1 - (1 - K/Kmax)^2.
  double k_mean = 0.19;
  for (int i = 0; i < 50; ++i) k_mean = largest_clearness(k_mean) / 3.0;
  const HollandsHugetClearness ramp(k_mean);
  CHECK_THAT(ramp.lambda(), WithinAbs(0.0, 1e-6));
  for (const double p : {0.001, 0.1, 0.5, 0.9, 0.999}) {
    CHECK_THAT(ramp.quantile(p), WithinAbs(ramp.k_max() * (1.0 - std::sqrt(1.0 - p)), 1e-6));
  }
}

TEST_CASE("Hollands and Huget's distribution refuses means that leave it no room") {
  CHECK_THROWS_AS(HollandsHugetClearness(0.01), std::invalid_argument);
  CHECK_THROWS_AS(HollandsHugetClearness(0.84), std::invalid_argument);
  CHECK_THROWS_AS(HollandsHugetClearness(std::nan("")), std::invalid_argument);
}

TEST_CASE("The largest clearness holds its mean between 0.20 and 0.80") {
  CHECK_THAT(largest_clearness(0.50), WithinAbs(0.7646, 1e-4));  // Hollands & Huget 1983
  CHECK(largest_clearness(0.05) == largest_clearness(0.20));
  CHECK(largest_clearness(0.95) == largest_clearness(0.80));
}

TEST_CASE("The beta distribution has the mean and standard deviation that it was asked for") {
  for (const auto& [k_mean, sd] : {std::pair{0.15, 0.10},
                                   {0.30, 0.18},
                                   {0.45, 0.20},
                                   {0.60, 0.16},
                                   {0.70, 0.08},
                                   {0.74, 0.12},
                                   {0.30, 0.02}}) {
    INFO("mean " << k_mean << ", sd " << sd);
    const BetaClearness beta(k_mean, sd);
    const Moments found = integrated(beta);
    CHECK_THAT(found.mean, WithinAbs(k_mean, 1e-7));
    CHECK_THAT(found.sd, WithinAbs(sd, 1e-6));
    CHECK(beta.mean() == k_mean);
    CHECK(beta.sd() == sd);
  }
}

TEST_CASE("A beta distribution with first parameter 1 has its closed form") {
  // Beta(1, b) over 0..top: F(K) = 1 - (1 - K/top)^b, mean top / (1 + b).
  constexpr double k_mean = 0.30;
  const double top = largest_clearness(k_mean);
  const double b = top / k_mean - 1.0;
  const BetaClearness beta(k_mean, k_mean * std::sqrt(b / (2.0 + b)));
  for (const double p : {0.0, 1e-6, 0.01, 0.3, 0.5, 0.9, 0.999, 1.0}) {
    CHECK_THAT(beta.quantile(p), WithinAbs(top * (1.0 - std::pow(1.0 - p, 1.0 / b)), 1e-12));
  }
}

TEST_CASE("A wide spread lifts the top of the beta distribution to the mean and 1.5 deviations") {
  CHECK(BetaClearness(0.70, 0.12).quantile(1.0) == 0.70 + 1.5 * 0.12);
  CHECK(BetaClearness(0.40, 0.12).quantile(1.0) == largest_clearness(0.40));
}

TEST_CASE("The beta distribution refuses a spread that its mean cannot have") {
  const double limit = BetaClearness::largest_sd(0.30, 0.20);
  CHECK_THAT(limit, WithinRel(std::sqrt(0.98 * 0.30 * (largest_clearness(0.30) - 0.30)), 1e-12));
  CHECK_NOTHROW(BetaClearness(0.30, 0.20));
  // Where the top grows with the spread, the greatest spread is 0.98 x 1.5 times the mean.
  CHECK_NOTHROW(BetaClearness(0.30, 0.999 * 1.47 * 0.30));
  CHECK_THROWS_AS(BetaClearness(0.30, 1.001 * 1.47 * 0.30), std::invalid_argument);
  for (const double sd : {0.0, -0.1, 0.45, std::nan("")}) {
    INFO("sd " << sd);
    CHECK_THROWS_AS(BetaClearness(0.30, sd), std::invalid_argument);
  }
}

TEST_CASE("Quantiles of a uniform distribution give its mean and spread") {
  const QuantileClearness uniform(kQuantileProbabilities);
  CHECK_THAT(uniform.mean(), WithinAbs(0.5, 1e-15));
  CHECK_THAT(uniform.sd(), WithinAbs(1.0 / std::sqrt(12.0), 1e-15));
  for (const double p : {0.0, 0.02, 0.05, 0.33, 0.5, 0.77, 0.95, 0.99, 1.0}) {
    CHECK_THAT(uniform.quantile(p), WithinAbs(p, 1e-15));
  }
}

TEST_CASE("Mean and spread of stated quantiles are those of the straight lines between them") {
  const QuantileClearness dull({0.02, 0.06, 0.09, 0.15, 0.28, 0.45, 0.58, 0.64, 0.74});
  double mean = 0.0, square = 0.0;
  for (std::size_t i = 1; i < kQuantileProbabilities.size(); ++i) {
    const auto part = [&](int order) {
      return boost::math::quadrature::gauss_kronrod<double, 15>::integrate(
          [&](double p) { return std::pow(dull.quantile(p), order); },
          kQuantileProbabilities[i - 1], kQuantileProbabilities[i]);
    };
    mean += part(1);
    square += part(2);
  }
  CHECK_THAT(dull.mean(), WithinAbs(mean, 1e-12));
  CHECK_THAT(dull.sd(), WithinAbs(std::sqrt(square - mean * mean), 1e-12));
  CHECK(dull.quantile(0.25) == 0.15);
  CHECK_THAT(dull.quantile(0.375), WithinAbs(0.5 * (0.15 + 0.28), 1e-15));
  CHECK(dull.quantile(-0.1) == 0.02);
  CHECK(dull.quantile(1.1) == 0.74);
}

TEST_CASE("A quantile that is stated twice is a point mass") {
  const QuantileClearness step({0.1, 0.1, 0.1, 0.1, 0.1, 0.7, 0.7, 0.7, 0.7});
  CHECK(step.quantile(0.2) == 0.1);
  CHECK(step.quantile(0.8) == 0.7);
  CHECK_THAT(step.mean(), WithinAbs(0.5 * 0.1 + 0.25 * 0.4 + 0.25 * 0.7, 1e-15));
}

}  // namespace
}  // namespace dullspell
