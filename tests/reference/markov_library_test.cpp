#include "tests/calibration/markov_library.hpp"

#include <cmath>

#include "tests/support/reference_table.hpp"

namespace dullspell {
namespace {

using calibration::kClasses;
using calibration::MarkovLibrary;
using calibration::MarkovMonth;
using Catch::Matchers::WithinAbs;

MarkovLibrary library() {
  return MarkovLibrary(reference_table("markov_library.csv"));
}

// Mean, spread and lag-1 correlation of many short stays, with standard errors of mean and lag-1.
struct Drawn {
  double mean = 0.0, mean_error = 0.0, sd = 0.0, lag1 = 0.0, lag1_error = 0.0;
};

constexpr std::uint32_t kStays = 40000;
constexpr int kDays = 7;

Drawn drawn_from(const MarkovMonth& month) {
  std::vector<std::array<double, kDays>> stays(kStays);
  double sum = 0.0, squares = 0.0;
  for (std::uint32_t stay = 0; stay < kStays; ++stay) {
    RandomStream stream({20270521, stay, 0, DrawPurpose::test});
    month.draw(stream, stays[stay]);
    for (const double k : stays[stay]) {
      sum += k;
      squares += k * k;
    }
  }
  const double days = 1.0 * kStays * kDays;
  Drawn out;
  out.mean = sum / days;
  const double variance = squares / days - out.mean * out.mean;
  out.sd = std::sqrt(variance);
  // Stays are independent: their means and mean products give the errors.
  double mean_squares = 0.0, products = 0.0, product_squares = 0.0;
  for (const auto& stay : stays) {
    double mean = 0.0, product = 0.0;
    for (int d = 0; d < kDays; ++d) mean += stay[static_cast<std::size_t>(d)] / kDays;
    for (std::size_t d = 1; d < kDays; ++d) {
      product += (stay[d - 1] - out.mean) * (stay[d] - out.mean) / (kDays - 1);
    }
    mean_squares += (mean - out.mean) * (mean - out.mean);
    products += product;
    product_squares += product * product;
  }
  const double product = products / kStays;
  out.mean_error = std::sqrt(mean_squares) / kStays;
  out.lag1 = product / variance;
  out.lag1_error = std::sqrt((product_squares / kStays - product * product) / kStays) / variance;
  return out;
}

TEST_CASE("The Markov library's rows sum to one within the rounding of their ten entries") {
  const int rows = for_each_row(
      "markov_library.csv", {"p1", "p2", "p3", "p4", "p5", "p6", "p7", "p8", "p9", "p10", "rowsum"},
      [](auto... numbers) {
        const std::array<double, 11> row{numbers...};
        double sum = 0.0;
        for (int j = 0; j < kClasses; ++j) {
          CHECK(row[static_cast<std::size_t>(j)] >= 0.0);
          sum += row[static_cast<std::size_t>(j)];
        }
        CHECK_THAT(sum, WithinAbs(row[10], 1e-9));
        CHECK_THAT(sum, WithinAbs(1.0, 10 * 0.0005));
      });
  CHECK(rows == 100);
}

TEST_CASE("The Markov library's stationary chain has the tabulated moments and classes") {
  const MarkovLibrary markov = library();
  std::size_t m = 0;
  const int rows = for_each_row("markov_library_stationary.csv",
                                {"mean_KT", "sd_KT", "lag1_autocorr", "pi1", "pi2", "pi3", "pi4",
                                 "pi5", "pi6", "pi7", "pi8", "pi9", "pi10"},
                                [&](double mean, double sd, double lag1, auto... classes) {
                                  constexpr double kLastDigit = 0.51e-5;
                                  const MarkovMonth& month = markov.months().at(m++);
                                  CHECK_THAT(month.mean(), WithinAbs(mean, kLastDigit));
                                  CHECK_THAT(month.sd(), WithinAbs(sd, kLastDigit));
                                  CHECK_THAT(month.lag1(), WithinAbs(lag1, 10 * kLastDigit));
                                  int j = 0;
                                  for (const double p : {classes...}) {
                                    CHECK_THAT(month.stationary()(j++), WithinAbs(p, kLastDigit));
                                  }
                                });
  CHECK(rows == 10);
}

TEST_CASE("Drawn days of the Markov library are stationary from the first") {
  const MarkovLibrary markov = library();
  std::size_t m = 0;
  for_each_row("markov_library_stationary.csv", {"mean_KT", "sd_KT", "lag1_autocorr"},
               [&](double mean, double sd, double lag1) {
                 const Drawn drawn = drawn_from(markov.months().at(m++));
                 CHECK(std::abs(drawn.mean - mean) < 4.0 * drawn.mean_error);
                 CHECK(std::abs(drawn.lag1 - lag1) < 4.0 * drawn.lag1_error);
                 // The error of a spread is about that of the mean over sqrt 2.
                 CHECK(std::abs(drawn.sd - sd) < 4.0 * drawn.mean_error);
                 // A chain without memory, or of the neighbouring matrix, would be found out.
                 CHECK(drawn.mean_error < 0.001);
                 CHECK(drawn.lag1_error < 0.01);
               });
  CHECK(m == 10);
}

TEST_CASE("A month's mean picks its matrix, and the days are scaled to that mean") {
  const MarkovLibrary markov = library();
  CHECK(&markov.month_of(0.12) == &markov.months()[0]);
  CHECK(&markov.month_of(0.30) == &markov.months()[0]);
  CHECK(&markov.month_of(0.301) == &markov.months()[1]);
  CHECK(&markov.month_of(0.70) == &markov.months()[8]);
  CHECK(&markov.month_of(0.78) == &markov.months()[9]);
  for (const double k_mean : {0.26, 0.41, 0.58}) {
    double ratio = 0.0;
    for (std::uint32_t stay = 0; stay < 100; ++stay) {
      std::array<double, 5> plain{}, scaled{};
      RandomStream a({1, stay, 0, DrawPurpose::test}), b({1, stay, 0, DrawPurpose::test});
      markov.month_of(k_mean).draw(a, plain);
      markov.draw(k_mean, b, scaled);
      ratio = scaled[4] / plain[4];
      CHECK_THAT(ratio, WithinAbs(k_mean / markov.month_of(k_mean).mean(), 1e-12));
    }
    CHECK(ratio != 1.0);
  }
}

}  // namespace
}  // namespace dullspell
