#include <catch2/catch.hpp>

#include "engine/statistics/interval.hpp"
#include "tests/support/reference_table.hpp"

using namespace dullspell;

TEST_CASE("95 % intervals of proportions agree with another program's and a paper's") {
  const int rows = for_each_row(
      "binomial_intervals.csv", {"x", "n", "wilson_lo", "wilson_hi", "cp_lo", "cp_hi"},
      [](double count, double trials, double wilson_low, double wilson_high, double exact_low,
         double exact_high) {
        const auto k = static_cast<std::uint64_t>(count), n = static_cast<std::uint64_t>(trials);
        const Interval wilson = wilson_interval(k, n),
                       exact = clopper_pearson_interval(count, trials);
        // Eight significant digits.
        CHECK(wilson.low == Approx(wilson_low).epsilon(1e-7).margin(1e-15));
        CHECK(wilson.high == Approx(wilson_high).epsilon(1e-7));
        CHECK(exact.low == Approx(exact_low).epsilon(1e-7).margin(1e-15));
        CHECK(exact.high == Approx(exact_high).epsilon(1e-7));
      });
  CHECK(rows == 10);
}

TEST_CASE("the worked examples of Newcombe 1998 come out to their four digits") {
  // Newcombe 1998, Stat. Med. 17:857, Table I; from memory.
  const Interval wilson = wilson_interval(81, 263), exact = clopper_pearson_interval(81, 263);
  CHECK(wilson.low == Approx(0.2553).margin(5e-5));
  CHECK(wilson.high == Approx(0.3662).margin(5e-5));
  CHECK(exact.low == Approx(0.2527).margin(5e-5));
  CHECK(exact.high == Approx(0.3676).margin(5e-5));
  CHECK(wilson_interval(0, 20).high == Approx(0.1611).margin(5e-5));
  CHECK(clopper_pearson_interval(1, 29).low == Approx(0.0009).margin(5e-5));
}
