#include <cmath>

#include <catch2/catch.hpp>

#include "tests/support/test_place.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("A month's distribution is the most detailed that it states") {
  MonthStatistics month;
  month.k_mean = 0.40;
  CHECK(std::holds_alternative<HollandsHugetClearness>(clearness_distribution(month)));
  month.k_sd = 0.15;
  CHECK(std::holds_alternative<BetaClearness>(clearness_distribution(month)));
  CHECK(sd(clearness_distribution(month)) == 0.15);
  month.k_quantiles = kQuantileProbabilities;
  CHECK(std::holds_alternative<QuantileClearness>(clearness_distribution(month)));
  CHECK_THAT(mean(clearness_distribution(month)), WithinAbs(0.5, 1e-12));
}

TEST_CASE("Another mean scales quantiles and leaves a beta its spread") {
  MonthStatistics month = place_with_quantiles(kContrastingMeans).months[3];
  const auto scaled = clearness_distribution_with_mean(month, 0.9 * month.k_mean.value);
  CHECK_THAT(mean(scaled), WithinRel(0.9 * month.k_mean.value, 1e-12));
  CHECK_THAT(quantile(scaled, 0.25), WithinRel(0.9 * (*month.k_quantiles)[3], 1e-12));
  month.k_quantiles.reset();
  month.k_sd = 0.12;
  const auto moved = clearness_distribution_with_mean(month, 0.55);
  CHECK(mean(moved) == 0.55);
  CHECK(sd(moved) == 0.12);
}

TEST_CASE("A mean that leaves a spread no room narrows it instead of failing") {
  MonthStatistics month;
  month.k_mean = 0.06;
  month.k_sd = 0.085;
  const auto narrowed = clearness_distribution_with_mean(month, 0.02);
  CHECK(mean(narrowed) == 0.02);
  CHECK(sd(narrowed) <= 0.085);
}

TEST_CASE("Default weather is wintry in January in the north and in July in the south") {
  const MonthStatistics january = default_month(0, 45.0);
  CHECK_THAT(january.temp_sd_c.value, WithinAbs(4.4, 1e-12));
  CHECK_THAT(january.temp_k_correlation.value, WithinAbs(-0.20, 1e-12));
  const MonthStatistics july = default_month(6, 45.0);
  CHECK_THAT(july.temp_sd_c.value, WithinAbs(2.0, 1e-12));
  CHECK_THAT(july.temp_k_correlation.value, WithinAbs(0.20, 1e-12));
  for (int m = 0; m < 12; ++m) {
    CHECK_THAT(default_month(m, -33.0).temp_sd_c.value,
               WithinAbs(default_month((m + 6) % 12, 33.0).temp_sd_c.value, 1e-12));
    CHECK_THAT(default_month(m, -33.0).temp_k_correlation.value,
               WithinAbs(default_month((m + 6) % 12, 33.0).temp_k_correlation.value, 1e-12));
  }
  CHECK(january.k_persistence == 0.29);
  CHECK(january.temp_persistence.value == 0.60);
  CHECK(january.temp_range_c.value == 11.0);
  CHECK(january.range_k_slope.value == 12.5);
  CHECK_FALSE(january.k_sd.has_value());
  CHECK_FALSE(january.temp_mean_c.has_value());
}

TEST_CASE("Only records of one year or none get a default share of the year") {
  CHECK(default_year_share(RecordKind::typical_year) == 0.08);
  CHECK(default_year_share(RecordKind::estimated) == 0.08);
  CHECK(default_year_share(RecordKind::measured) == 0.0);
  CHECK(default_year_share(RecordKind::monthly_means) == 0.0);
}

TEST_CASE("Kinds of record have the names that files use") {
  CHECK(to_string(RecordKind::measured) == "measured");
  CHECK(to_string(RecordKind::typical_year) == "typical-year");
  CHECK(to_string(RecordKind::monthly_means) == "monthly-means");
  CHECK(to_string(RecordKind::estimated) == "estimated");
}

TEST_CASE("A month's irradiation above the air is the mean of its days") {
  const Coordinates where{60.0, 10.0};
  double sum = 0.0;
  for (unsigned d = 1; d <= 28; ++d) {
    sum += extraterrestrial_of_date_wh_m2(make_date(2023, 2, d), where);
  }
  CHECK_THAT(mean_extraterrestrial_wh_m2(1, where), WithinRel(sum / 28.0, 1e-12));
  CHECK(mean_extraterrestrial_wh_m2(11, {80.0, 0.0}) == 0.0);
}

}  // namespace
}  // namespace dullspell
