#include <array>
#include <cmath>

#include <catch2/catch.hpp>

#include "weather/known_sky.hpp"

namespace dullspell {
namespace {

// Quantiles with two levels: a fifth of the days have K = 0.3, the best twentieth 0.7.
const ClearnessTable kStepped{
    QuantileClearness({0.10, 0.20, 0.25, 0.30, 0.45, 0.60, 0.70, 0.70, 0.70})};
const ClearnessTable kSmooth{BetaClearness(0.50, 0.17)};

TEST_CASE("The chi of a clearness is the one that the table gives it for") {
  for (const double chi : {-3.0, -1.234, -0.5, 0.0, 0.017, 1.0, 2.5}) {
    CHECK(kSmooth.chi_of(kSmooth(chi)) == Approx(chi).margin(1e-9));
  }
  CHECK(kSmooth.chi_of(-0.1) == -6.0);
  CHECK(kSmooth.chi_of(1.1) == 6.0);
}

TEST_CASE("A level of the table has the chi of its middle") {
  // P(K = 0.70) is 0.10, from chi = 1.2816 up to the table's end at 6; levels begin in a cell.
  constexpr double kCell = 12.0 / 256.0;
  CHECK(kStepped.chi_of(0.70) == Approx(0.5 * (1.2816 + 6.0)).margin(kCell));
  CHECK(kStepped.chi_of(0.7001) == 6.0);
  CHECK(kStepped.chi_of(0.6999) == Approx(1.2816).margin(kCell));
}

TEST_CASE("A stated clearness is a Gaussian of chi with the table's slope") {
  const KnownChi day = known_chi(3, {0.50, 0.05}, kSmooth);
  CHECK(day.day == 3);
  CHECK(kSmooth(day.mean) == Approx(0.50).margin(1e-9));
  const double slope = (kSmooth(day.mean + 0.01) - kSmooth(day.mean - 0.01)) / 0.02;
  CHECK(day.sd == Approx(0.05 / slope).epsilon(0.02));
  CHECK(known_chi(3, {0.50, 0.0}, kSmooth).sd == 0.0);
}

TEST_CASE("No day is less certain than the climate, and none stranger than chi = 2.25") {
  CHECK(known_chi(0, {0.50, 0.40}, kSmooth).sd == 1.0);
  const KnownChi above = known_chi(0, {0.95, 0.05}, kSmooth);
  CHECK(above.mean == 2.25);
  CHECK(above.sd >= 0.0);
  const KnownChi below = known_chi(0, {0.0, 0.0}, kSmooth);
  CHECK(below.mean == -2.25);
  CHECK(below.sd == 0.0);
}

TEST_CASE("Words mean a clearness of the date, numbers themselves") {
  const StatedClearness clear = stated_clearness(SkyWord::clear, 0.55);
  CHECK(clear.k == Approx(0.87 * largest_clearness(0.55)));
  CHECK(stated_clearness(SkyWord::clear, 0.70).k > clear.k);
  CHECK(stated_clearness(SkyWord::mixed, 0.55).k < clear.k);
  CHECK(stated_clearness(SkyWord::overcast, 0.55).k < stated_clearness(SkyWord::mixed, 0.55).k);
  CHECK(stated_clearness(SkyWord::rain, 0.55).k < stated_clearness(SkyWord::overcast, 0.55).k);
  const StatedClearness own = stated_clearness(StatedClearness{0.61, 0.07}, 0.55);
  CHECK(own.k == 0.61);
  CHECK(own.k_spread == 0.07);
  for (const SkyWord word : {SkyWord::clear, SkyWord::mixed, SkyWord::overcast, SkyWord::rain}) {
    CHECK(sky_word(to_string(word)) == word);
  }
  CHECK_FALSE(sky_word("cloudy").has_value());
}

}  // namespace
}  // namespace dullspell
