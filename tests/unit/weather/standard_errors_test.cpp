#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

#include "tests/support/test_place.hpp"
#include "weather/standard_errors.hpp"

namespace dullspell {
namespace {

const Date kMidMay = make_date(2027, 5, 16);

PerStatistic<double> errors_of(const DateClimate& climate) {
  PerStatistic<double> out;
  for (std::size_t i = 0; i < kStatistics; ++i) out[i] = climate[i].standard_error.value();
  return out;
}

DateClimate climate_of(const Place& place, Date date = kMidMay) {
  return PlaceClimate(place).on(date);
}

PerStatistic<double> errors_of_kind(RecordKind kind, double years = 0.0) {
  Place place = place_with_means(kContrastingMeans);
  place.record = kind;
  place.record_years = years;
  for (MonthStatistics& month : place.months) {
    for (std::size_t i = 0; i < kStatistics; ++i) {
      if (Estimate* stated = month.estimates()[i]) stated->standard_error.reset();
    }
  }
  return errors_of(of_other_decades(climate_of(place)));
}

void check_same(const PerStatistic<double>& a, const PerStatistic<double>& b) {
  for (std::size_t i = 0; i < kStatistics; ++i) {
    CAPTURE(i);
    CHECK(a[i] == Approx(b[i]));
  }
}

TEST_CASE("A measured record is known the better the more years it has") {
  for (const double years : {2.0, 4.0, 25.0}) {
    CAPTURE(years);
    const double n = std::sqrt(years);
    check_same(usual_standard_errors(RecordKind::measured, years),
               {0.050 / n, 0.024 / n, 0.08 / n, 0.06, 1.3 / n, 1.1 / n, 0.8 / n, 0.06 / n, 0.24 / n,
                5.0 / n});
  }
}

TEST_CASE("A single measured year, or one of unknown length, has the errors of pooled months") {
  for (const double years : {0.0, 0.9, 1.0, 1.49}) {
    CAPTURE(years);
    check_same(usual_standard_errors(RecordKind::measured, years),
               {0.036, 0.020, 0.07, 0.06, 1.3, 1.1, 0.5, 0.06, 0.14, 3.0});
  }
}

TEST_CASE("Kinds of record that are not measured have errors of their own, whatever their years") {
  for (const double years : {0.0, 30.0}) {
    check_same(usual_standard_errors(RecordKind::typical_year, years),
               {0.030, 0.020, 0.06, 0.05, 1.2, 1.5, 0.5, 0.06, 0.14, 4.2});
    check_same(usual_standard_errors(RecordKind::monthly_means, years),
               {0.020, 0.030, 0.08, 0.05, 1.2, 1.5, 0.5, 0.06, 0.14, 4.2});
    check_same(usual_standard_errors(RecordKind::estimated, years),
               {0.034, 0.030, 0.08, 0.05, 1.2, 1.5, 0.5, 0.06, 0.14, 4.2});
  }
}

TEST_CASE("A place's own standard errors go before its kind, blended as its months are") {
  constexpr PerStatistic<double> kMay{0.012, 0.008, 0.020, 0.030, 0.9, 0.8, 0.3, 0.02, 0.1, 2.0};
  constexpr PerStatistic<double> kJune{0.020, 0.006, 0.040, 0.010, 0.5, 0.2, 0.4, 0.03, 0.2, 3.0};
  Place place = place_with_spread(kContrastingMeans, 0.1);
  place.record = RecordKind::estimated;
  for (const std::size_t month : {4u, 5u}) {
    place.months[month].temp_mean_c = 14.0;
    for (std::size_t i = 0; i < kStatistics; ++i) {
      place.months[month].estimates()[i]->standard_error = (month == 4 ? kMay : kJune)[i];
    }
  }
  check_same(errors_of(climate_of(place)), kMay);
  const Date late = make_date(2027, 5, 30);
  const MonthBlend blend = month_blend(late);
  REQUIRE(blend.month == 4);
  REQUIRE(blend.neighbour == 5);
  REQUIRE(blend.weight > 0.1);
  const PerStatistic<double> between = errors_of(climate_of(place, late));
  for (std::size_t i = 0; i < kStatistics; ++i) {
    CHECK(between[i] == Approx(kMay[i] + blend.weight * (kJune[i] - kMay[i])));
  }
}

TEST_CASE("What a place leaves to defaults is known as well as they are, the rest as its kind") {
  Place place = place_with_means(kContrastingMeans);
  place.record = RecordKind::typical_year;
  place.months[4].temp_range_c = 9.0;
  const PerStatistic<double> errors = errors_of(climate_of(place));
  CHECK(errors.k_mean == Approx(0.030));
  CHECK(errors.k_sd == Approx(0.020));
  CHECK(errors.temp_range_c == Approx(1.5));
  CHECK(errors.temp_sd_c == Approx(1.1));
  CHECK(errors.temp_persistence == Approx(0.09));
  CHECK(errors.range_k_slope == Approx(6.0));
}

TEST_CASE("Instruments and decades add to the error of the mean at any camp") {
  const auto errors = errors_of_kind(RecordKind::typical_year);
  PerStatistic<double> expected = usual_standard_errors(RecordKind::typical_year, 0.0);
  expected.k_mean = std::hypot(expected.k_mean, 0.010);
  check_same(errors, expected);
}

TEST_CASE("A climate off by nothing is as it was, to the grid's step") {
  for (const Place& place :
       {place_with_spread(kContrastingMeans, 0.15), place_with_means(kContrastingMeans),
        place_with_quantiles(kContrastingMeans)}) {
    for (const unsigned day : {1u, 16u, 30u}) {
      const DateClimate stated = climate_of(place, make_date(2027, 4, day));
      const DateClimate same = off_by(stated, {});
      CHECK(same.k_of_chi.rounded().values() == stated.k_of_chi.rounded().values());
      for (std::size_t i = 0; i < kStatistics; ++i) CHECK(same[i] == stated[i]);
    }
  }
}

/// A date all of whose numbers have the same standard error.
DateClimate with_errors(double standard_error) {
  DateClimate climate = climate_of(place_with_spread(kContrastingMeans, 0.10));
  for (std::size_t i = 0; i < kStatistics; ++i) climate[i].standard_error = standard_error;
  return climate;
}

TEST_CASE("Every statistic moves by its deviate times its standard error, and alone") {
  const DateClimate stated = with_errors(0.01);
  for (std::size_t i = 0; i < kStatistics; ++i) {
    CAPTURE(i);
    ClimateDeviates deviates;
    deviates[i] = 3.0;
    const DateClimate moved = off_by(stated, deviates);
    for (std::size_t other = 0; other < kStatistics; ++other) {
      CHECK(moved[other].value - stated[other].value ==
            Approx(other == i ? 0.03 : 0.0).margin(1e-12));
    }
  }
}

TEST_CASE("The distribution of days moves with mean and spread") {
  const DateClimate stated = with_errors(0.01);
  ClimateDeviates deviates;
  deviates.k_mean = 3.0;
  deviates.k_sd = 2.0;
  const DateClimate moved = off_by(stated, deviates);
  CHECK(moved.k_of_chi.mean() == Approx(stated.k_of_chi.mean() + 0.03).margin(2e-4));
  CHECK(moved.k_of_chi.sd() == Approx(stated.k_of_chi.sd() + 0.02).margin(2e-4));
}

TEST_CASE("Errors beyond what a climate can be end at its bounds") {
  const DateClimate stated = with_errors(100.0);
  ClimateDeviates up, down;
  for (std::size_t i = 0; i < kStatistics; ++i) up[i] = 1.0, down[i] = -1.0;
  const DateClimate high = off_by(stated, up), low = off_by(stated, down);
  for (const DateClimate& climate : {high, low}) {
    const auto& k = climate.k_of_chi.values();
    CHECK(k.front() >= 0.0);
    CHECK(k.back() <= 1.0);
    CHECK(std::is_sorted(k.begin(), k.end()));
  }
  CHECK(high.k_persistence.value == 0.9);
  CHECK(high.k_year_share.value == 0.5);
  CHECK(high.temp_persistence.value == 0.95);
  CHECK(high.temp_k_correlation.value == 0.9);
  CHECK(high.range_k_slope.value == 40.0);
  CHECK(low.k_persistence.value == -0.3);
  CHECK(low.k_year_share.value == 0.0);
  CHECK(low.temp_persistence.value == -0.3);
  CHECK(low.temp_k_correlation.value == -0.9);
  CHECK(low.range_k_slope.value == -10.0);
  CHECK(low.temp_range_c.value == 1.0);
  // A spread cannot be taken away whole: a fifth of it stays.
  CHECK(low.temp_sd_c.value == Approx(0.2 * stated.temp_sd_c.value));
  ClimateDeviates narrow;
  narrow.k_sd = -1.0;
  CHECK(off_by(stated, narrow).k_of_chi.sd() == Approx(0.2 * stated.k_of_chi.sd()));
}

}  // namespace
}  // namespace dullspell
