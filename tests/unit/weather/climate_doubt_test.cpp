#include <cmath>

#include <catch2/catch.hpp>

#include "tests/support/test_place.hpp"
#include "weather/climate_doubt.hpp"

namespace dullspell {
namespace {

const Date kMidMay = make_date(2027, 5, 16);

ClimateDoubt doubt(RecordKind kind, double years = 0.0, double distance_km = 0.0) {
  Place place = place_with_means(kContrastingMeans);
  place.record = kind;
  place.record_years = years;
  return climate_doubt(place, kMidMay, distance_km);
}

/// The level without the 0.010 of instruments and decades.
double own_level(const ClimateDoubt& doubt) {
  return std::sqrt(doubt.level * doubt.level - 0.010 * 0.010);
}

DateClimate climate_of(const Place& place, Date date = kMidMay) {
  return PlaceClimate(place).on(date);
}

void check_same(const ClimateDoubt& a, const ClimateDoubt& b) {
  CHECK(a.level == Approx(b.level));
  CHECK(a.spread == Approx(b.spread));
  CHECK(a.persistence == Approx(b.persistence));
  CHECK(a.year_share == Approx(b.year_share));
}

TEST_CASE("A measured record is known the better the more years it has") {
  for (const double years : {2.0, 4.0, 25.0}) {
    CAPTURE(years);
    const ClimateDoubt found = doubt(RecordKind::measured, years);
    CHECK(own_level(found) == Approx(0.050 / std::sqrt(years)));
    CHECK(found.spread == Approx(0.024 / std::sqrt(years)));
    CHECK(found.persistence == Approx(0.08 / std::sqrt(years)));
    CHECK(found.year_share == Approx(0.06));
  }
}

TEST_CASE("A single measured year, or one of unknown length, has the doubt of pooled months") {
  for (const double years : {0.0, 0.9, 1.0, 1.49}) {
    CAPTURE(years);
    const ClimateDoubt found = doubt(RecordKind::measured, years);
    CHECK(own_level(found) == Approx(0.036));
    CHECK(found.spread == Approx(0.020));
    CHECK(found.persistence == Approx(0.07));
    CHECK(found.year_share == Approx(0.06));
  }
}

TEST_CASE("Kinds of record that are not measured have doubts of their own") {
  const auto check = [](RecordKind kind, ClimateDoubt expected) {
    ClimateDoubt found = doubt(kind);
    found.level = own_level(found);
    check_same(found, expected);
    check_same(doubt(kind, 30.0), doubt(kind));  // years do not help
  };
  check(RecordKind::typical_year, {0.030, 0.020, 0.06, 0.05});
  check(RecordKind::monthly_means, {0.020, 0.030, 0.08, 0.05});
  check(RecordKind::estimated, {0.034, 0.030, 0.08, 0.05});
}

TEST_CASE("A place's own standard errors go before its kind, blended as its months are") {
  Place place = place_with_means(kContrastingMeans);
  place.record = RecordKind::estimated;
  place.errors.emplace();
  (*place.errors)[4] = {0.012, 0.008, {}, 0.020, 0.030, 0, 0, 0, 0, 0, 0};
  (*place.errors)[5] = {0.020, 0.006, {}, 0.040, 0.010, 0, 0, 0, 0, 0, 0};
  check_same(climate_doubt(place, kMidMay, 0.0), {std::hypot(0.012, 0.010), 0.008, 0.020, 0.030});

  const Date late = make_date(2027, 5, 30);
  const MonthBlend blend = month_blend(late);
  REQUIRE(blend.month == 4);
  REQUIRE(blend.neighbour == 5);
  REQUIRE(blend.weight > 0.1);
  const auto between = [&](double may, double june) { return may + blend.weight * (june - may); };
  check_same(climate_doubt(place, late, 0.0),
             {std::hypot(between(0.012, 0.020), 0.010), between(0.008, 0.006),
              between(0.020, 0.040), between(0.030, 0.010)});
}

TEST_CASE("A distant camp adds a doubt of level and spread that levels off") {
  const ClimateDoubt here = doubt(RecordKind::measured, 25.0);
  const auto added = [&](double distance_km) {
    const ClimateDoubt there = doubt(RecordKind::measured, 25.0, distance_km);
    CHECK(there.persistence == here.persistence);
    CHECK(there.year_share == here.year_share);
    return ClimateDoubt{std::sqrt(there.level * there.level - here.level * here.level),
                        std::sqrt(there.spread * there.spread - here.spread * here.spread)};
  };
  CHECK(added(0.0).level == 0.0);
  // 1 - 1/e = 0.632121, whose root is 0.795060.
  CHECK(added(90.0).level == Approx(0.040 * 0.795060));
  CHECK(added(200.0).spread == Approx(0.014 * 0.795060));
  CHECK(added(5000.0).level == Approx(0.040).epsilon(1e-6));
  CHECK(added(5000.0).spread == Approx(0.014).epsilon(1e-6));
  double last = 0.0;
  for (const double km : {1.0, 10.0, 50.0, 150.0, 400.0}) {
    CHECK(added(km).level > last);
    last = added(km).level;
  }
}

TEST_CASE("A shift of nothing leaves a climate as it is, to the grid's step") {
  for (const Place& place :
       {place_with_spread(kContrastingMeans, 0.15), place_with_means(kContrastingMeans),
        place_with_quantiles(kContrastingMeans)}) {
    for (const unsigned day : {1u, 16u, 30u}) {
      const DateClimate stated = climate_of(place, make_date(2027, 4, day));
      const DateClimate same = shifted(stated, {});
      CHECK((same.k_of_chi.rounded().values() == stated.k_of_chi.rounded().values()).all());
      CHECK(same.k_mean == stated.k_mean);
      CHECK(same.k_persistence == stated.k_persistence);
      CHECK(same.k_year_share == stated.k_year_share);
    }
  }
}

TEST_CASE("A shift moves mean, spread, persistence and the year's share by what it says") {
  const DateClimate stated = climate_of(place_with_spread(kContrastingMeans, 0.10));
  const DateClimate moved = shifted(stated, {0.03, 0.02, 0.05, 0.04});
  CHECK(moved.k_mean == Approx(stated.k_mean + 0.03));
  CHECK(moved.k_of_chi.mean() == Approx(stated.k_of_chi.mean() + 0.03).margin(2e-4));
  CHECK(moved.k_of_chi.sd() == Approx(stated.k_of_chi.sd() + 0.02).margin(2e-4));
  CHECK(moved.k_persistence == Approx(stated.k_persistence + 0.05));
  CHECK(moved.k_year_share == Approx(stated.k_year_share + 0.04));
  // Temperatures stay what the place states.
  CHECK(moved.temp_mean_c == stated.temp_mean_c);
  CHECK(moved.temp_k_correlation == stated.temp_k_correlation);
}

TEST_CASE("Shifts beyond what a climate can be end at its bounds") {
  const DateClimate stated = climate_of(place_with_spread(kContrastingMeans, 0.10));
  const DateClimate high = shifted(stated, {0.5, 0.5, 2.0, 2.0});
  const DateClimate low = shifted(stated, {-0.6, -0.5, -2.0, -2.0});
  for (const DateClimate& climate : {high, low}) {
    const auto& k = climate.k_of_chi.values();
    CHECK(k.minCoeff() >= 0.0);
    CHECK(k.maxCoeff() <= 1.0);
    for (int i = 0; i < ClearnessTable::kCells; ++i) REQUIRE(k[i] <= k[i + 1]);
  }
  CHECK(high.k_persistence == 0.9);
  CHECK(high.k_year_share == 0.5);
  CHECK(low.k_persistence == -0.3);
  CHECK(low.k_year_share == 0.0);
  // A spread cannot be taken away whole: a fifth of it stays.
  CHECK(shifted(stated, {0.0, -0.5, 0.0, 0.0}).k_of_chi.sd() == Approx(0.2 * stated.k_of_chi.sd()));
}

}  // namespace
}  // namespace dullspell
