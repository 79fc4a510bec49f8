#include <algorithm>
#include <cmath>
#include <vector>

#include <catch2/catch.hpp>

#include "tests/support/test_place.hpp"
#include "weather/place_climate.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;

constexpr int kYear = 2027;
const Date kNewYear = make_date(kYear, 1, 1);

/// The climate of every day of a year and of the next New Year's Day.
std::vector<DateClimate> year_of(const Place& place) {
  const PlaceClimate climate(place);
  std::vector<DateClimate> year;
  for (int d = 0; d <= 365; ++d) year.push_back(climate.on(kNewYear + std::chrono::days{d}));
  return year;
}

/// Averages over calendar months of `get(day)`, day 0 being New Year's Day.
template <class Get>
std::array<double, 12> month_averages(Get get) {
  std::array<double, 12> averages{};
  for (std::size_t d = 0; d < 365; ++d) {
    const Date date = kNewYear + std::chrono::days{d};
    averages[static_cast<std::size_t>(month_index(date))] += get(d) / days_in_month(date);
  }
  return averages;
}

// Calendar months come out as stated: means of the distributions that stays draw from.
void check_month_means(const Place& place) {
  const auto year = year_of(place);
  const auto drawn = month_averages([&](std::size_t d) { return year[d].k_of_chi.mean(); });
  const auto stated = month_averages([&](std::size_t d) { return year[d].k_mean.value; });
  for (std::size_t m = 0; m < 12; ++m) {
    INFO("month " << m + 1);
    CHECK_THAT(drawn[m], WithinAbs(place.months[m].k_mean.value, 1e-3));
    CHECK_THAT(stated[m], WithinAbs(place.months[m].k_mean.value, 1e-6));
  }
}

TEST_CASE("Contrasting months come out with the means that a place states alone") {
  check_month_means(place_with_means(kContrastingMeans));
}

TEST_CASE("Contrasting months come out with the means that a place states with spreads") {
  check_month_means(place_with_spread(kContrastingMeans, 0.15));
}

TEST_CASE("Contrasting months come out with the means of their quantiles") {
  check_month_means(place_with_quantiles(kContrastingMeans));
}

TEST_CASE("Without the shift of means contrasting months would not come out") {
  // The average of a month if the stated means were blended as they are: the tests above have
  // power.
  const auto naive = month_averages([](std::size_t d) {
    const MonthBlend blend = month_blend(kNewYear + std::chrono::days{d});
    return (1.0 - blend.weight) * kContrastingMeans[static_cast<std::size_t>(blend.month)] +
           blend.weight * kContrastingMeans[static_cast<std::size_t>(blend.neighbour)];
  });
  CHECK(std::abs(naive[2] - kContrastingMeans[2]) > 0.01);
}

TEST_CASE("Means at the edge of what a place may state are not shifted beyond it") {
  for (const DateClimate& date : year_of(place_with_means(
           {0.80, 0.02, 0.80, 0.02, 0.80, 0.02, 0.80, 0.02, 0.80, 0.02, 0.80, 0.02}))) {
    CHECK(date.k_mean.value >= 0.02);
    CHECK(date.k_mean.value <= 0.80);
    const auto& k = date.k_of_chi.values();
    CHECK(std::all_of(k.begin(), k.end(), [](double v) { return std::isfinite(v); }));
  }
}

// Within ten days around the 1st a quantity goes from one month's value to the other's in steps of
// a tenth; elsewhere it stands still.
template <class Get>
void check_steps(const std::vector<DateClimate>& year, Get get) {
  const auto in_mid_month = [&](int month) {
    const Date date = make_date(kYear, static_cast<unsigned>(month) + 1, 15);
    return get(year[static_cast<std::size_t>((date - kNewYear).count())]);
  };
  for (std::size_t d = 0; d < 365; ++d) {
    const Date today = kNewYear + std::chrono::days{d};
    const int one = month_index(today);
    const int other = day_of_month(today) < 15 ? (one + 11) % 12 : (one + 1) % 12;
    INFO(iso_date(today));
    const double tenth = std::abs(in_mid_month(one) - in_mid_month(other)) / 10.0;
    const double step = std::abs(get(year[d + 1]) - get(year[d]));
    CHECK(step <= tenth + 1e-9);
    if (day_of_month(today) == days_in_month(today)) CHECK_THAT(step, WithinAbs(tenth, 1e-9));
  }
}

TEST_CASE("No statistic takes a step on the 1st") {
  Place place = place_with_quantiles(kContrastingMeans);
  for (std::size_t m = 0; m < 12; ++m) {
    MonthStatistics& month = place.months[m];
    const double odd = m % 2 == 0 ? 0.0 : 1.0;
    month.k_persistence = 0.2 + 0.3 * odd;
    month.k_year_share = 0.1 * odd;
    month.temp_sd_c = 2.0 + 3.0 * odd;
    month.temp_persistence = 0.4 + 0.4 * odd;
    month.temp_k_correlation = -0.3 + 0.5 * odd;
    month.range_k_slope = 5.0 + 10.0 * odd;
  }
  const auto year = year_of(place);
  check_steps(year, [](const DateClimate& c) { return c.k_mean.value; });
  check_steps(year, [](const DateClimate& c) { return c.k_persistence.value; });
  check_steps(year, [](const DateClimate& c) { return c.k_year_share.value; });
  check_steps(year, [](const DateClimate& c) { return c.temp_sd_c.value; });
  check_steps(year, [](const DateClimate& c) { return c.temp_persistence.value; });
  check_steps(year, [](const DateClimate& c) { return c.temp_k_correlation.value; });
  check_steps(year, [](const DateClimate& c) { return c.range_k_slope.value; });
  // Quantiles of clearness, dull tail and median, move as smoothly as the mean.
  check_steps(year, [](const DateClimate& c) { return c.k_of_chi(-1.645); });
  check_steps(year, [](const DateClimate& c) { return c.k_of_chi(0.0); });
}

TEST_CASE("A neighbour month has a weight within five days of the boundary only") {
  const auto blend = [](unsigned month, unsigned day) {
    return month_blend(make_date(kYear, month, day));
  };
  CHECK_THAT(blend(3, 1).weight, WithinAbs(0.45, 1e-12));
  CHECK(blend(3, 1).month == 2);
  CHECK(blend(3, 1).neighbour == 1);
  CHECK_THAT(blend(3, 5).weight, WithinAbs(0.05, 1e-12));
  CHECK(blend(3, 6).weight == 0.0);
  CHECK(blend(3, 26).weight == 0.0);
  CHECK_THAT(blend(3, 31).weight, WithinAbs(0.45, 1e-12));
  CHECK(blend(3, 31).neighbour == 3);
  CHECK(blend(1, 1).neighbour == 11);
  CHECK(blend(12, 31).neighbour == 0);
  CHECK_THAT(month_blend(make_date(2028, 2, 29)).weight, WithinAbs(0.45, 1e-12));
}

TEST_CASE("A monthly curve averages to each month's mean") {
  // Days of an odd count have the mean distance 1/4 - 1/(4 n^2) from mid-month, not 1/4; with knots
  // up to 9 K apart that leaves 2 x 9 / (8 n^2) = 0.003 K.
  constexpr std::array<double, 12> kMeans{-9.0, -6.5, -1.0, 4.0, 9.5,  13.5,
                                          17.0, 16.0, 11.0, 5.0, -2.5, -8.0};
  const MonthlyCurve curve(kMeans);
  const auto averages =
      month_averages([&](std::size_t d) { return curve.at(kNewYear + std::chrono::days{d}); });
  for (std::size_t m = 0; m < 12; ++m) {
    INFO("month " << m + 1);
    CHECK_THAT(averages[m], WithinAbs(kMeans[m], 0.003));
  }
  double longest = 0.0;
  for (int d = 0; d < 365; ++d) {
    const Date today = kNewYear + std::chrono::days{d};
    longest = std::max(longest, std::abs(curve.at(today + std::chrono::days{1}) - curve.at(today)));
  }
  CHECK(longest < 9.0 / 28.0);  // the steepest line between knots, over a month's days
}

TEST_CASE("Temperatures follow the yearly curve, and a place without them gets the fallback") {
  Place place = place_with_means(kContrastingMeans);
  CHECK_FALSE(place.has_temperatures());
  for (const unsigned month : {1u, 7u}) {
    const DateClimate date = PlaceClimate(place, 12.5).on(make_date(kYear, month, 10));
    CHECK_THAT(date.temp_mean_c.value, WithinAbs(12.5, 1e-9));
    CHECK_THAT(date.temp_range_c.value, WithinAbs(11.0, 1e-9));
  }
  for (std::size_t m = 0; m < 12; ++m) place.months[m].temp_mean_c = m < 6 ? 0.0 : 10.0;
  CHECK(place.has_temperatures());
  const PlaceClimate climate(place);
  const double june = climate.on(make_date(kYear, 6, 30)).temp_mean_c.value;
  const double july = climate.on(make_date(kYear, 7, 1)).temp_mean_c.value;
  CHECK_THAT(june, WithinAbs(5.0, 0.3));
  CHECK(july > june);
  CHECK(july - june < 0.5);
}

TEST_CASE("The last of February in a leap year has a climate") {
  const PlaceClimate climate(place_with_means(kContrastingMeans));
  const double on_28 = climate.on(make_date(2028, 2, 28)).k_mean.value;
  const double on_29 = climate.on(make_date(2028, 2, 29)).k_mean.value;
  const double on_1 = climate.on(make_date(2028, 3, 1)).k_mean.value;
  CHECK(on_28 > on_29);  // February is the clearer month here
  CHECK(on_29 > on_1);
}

}  // namespace
}  // namespace dullspell
