#include <cmath>
#include <vector>

#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>
#include <catch2/catch.hpp>

#include "tests/support/batch_mean.hpp"
#include "tests/support/test_place.hpp"
#include "weather/clearness_table.hpp"
#include "weather/place_climate.hpp"
#include "weather/place_fit.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::Contains;
using Catch::Matchers::VectorContains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

// What the synthetic records are made of, the same in every month unless said otherwise.
constexpr double kPersistence = 0.35;
constexpr double kYearShare = 0.10;
constexpr double kSpread = 0.14;
constexpr double kTempSpread_c = 4.0;
constexpr double kTempPersistence = 0.65;
constexpr double kTempWithSky = -0.30;
constexpr double kRangeSlope = 14.0;
constexpr std::array<double, 12> kTempMeans_c{-8.0, -6.0, -1.0, 4.0, 9.0,  13.0,
                                              16.0, 15.0, 10.0, 5.0, -2.0, -7.0};

Place frame(RecordKind kind) {
  Place place = place_with_means(kContrastingMeans);
  place.record = kind;
  return place;
}

// A record drawn from the model with Boost's engine and normal distribution, not with our own. Its
// months change on the 1st, as a month's statistics are defined; chi runs on through the year.
std::vector<RecordedDay> synthetic_record(int first_year, int years, unsigned seed) {
  boost::random::mt19937_64 engine(seed);
  boost::random::normal_distribution<double> normal;
  const Coordinates where = frame(RecordKind::measured).where;
  static const std::vector<ClearnessTable> tables = [] {
    std::vector<ClearnessTable> out;
    for (const double k : kContrastingMeans) out.emplace_back(BetaClearness(k, kSpread));
    return out;
  }();
  const MonthlyCurve temperature(kTempMeans_c);
  const double warm_persistence =
      (kTempPersistence -
       kTempWithSky * kTempWithSky * (kYearShare + (1.0 - kYearShare) * kPersistence)) /
      (1.0 - kTempWithSky * kTempWithSky);

  std::vector<RecordedDay> record;
  double z = normal(engine), warm = normal(engine), year_part = 0.0;
  for (Date date = make_date(first_year, 1, 1); date < make_date(first_year + years, 1, 1);
       date += std::chrono::days{1}) {
    if (day_of_month(date) == 1) year_part = normal(engine);
    z = kPersistence * z + std::sqrt(1.0 - kPersistence * kPersistence) * normal(engine);
    warm = warm_persistence * warm +
           std::sqrt(1.0 - warm_persistence * warm_persistence) * normal(engine);
    const double chi = std::sqrt(kYearShare) * year_part + std::sqrt(1.0 - kYearShare) * z;
    const auto m = static_cast<std::size_t>(month_index(date));
    const double k = tables[m](chi);
    const double mean_c =
        temperature.at(date) +
        kTempSpread_c * (kTempWithSky * chi + std::sqrt(1.0 - kTempWithSky * kTempWithSky) * warm);
    const double range_c = 11.0 + kRangeSlope * (k - kContrastingMeans[m]);
    record.push_back({date, k * extraterrestrial_of_date_wh_m2(date, where) / 1000.0,
                      mean_c + 0.5 * range_c, mean_c - 0.5 * range_c, std::nullopt});
  }
  return record;
}

TEST_CASE("A long record gives back the statistics that it was made from") {
  constexpr int kRecords = 16, kYears = 40;
  // Estimates of independent records scatter about the truth; four standard errors of their mean
  // are 6e-5 of false alarm a check. Beyond that the estimators have biases of the order of one
  // over the years: normal scores are taken about the record's own mean, which lowers correlations
  // by the variance of that mean, (s + (1 - s)(1 + phi)/(1 - phi)/30) / years = 0.004.
  constexpr double kErrors = 4.0;
  constexpr double kBias =
      (kYearShare + (1.0 - kYearShare) * (1.0 + kPersistence) / (1.0 - kPersistence) / 30.0) /
      kYears;
  std::vector<BatchMean> k_mean(12), k_sd(12), temp_mean(12), temp_sd(12), temp_sky(12), slope(12);
  BatchMean persistence, share, lag1, temp_persistence;
  for (unsigned i = 0; i < kRecords; ++i) {
    const PlaceFit fit =
        fit_place(frame(RecordKind::measured), synthetic_record(1981, kYears, 100 + i));
    CHECK(fit.years == kYears);
    CHECK(fit.days_used == 14610);
    CHECK(fit.place.notes.empty());
    CHECK(fit.place.defaults.empty());
    for (std::size_t m = 0; m < 12; ++m) {
      const MonthStatistics& month = fit.place.months[m];
      k_mean[m](month.k_mean);
      k_sd[m](*month.k_sd);
      temp_mean[m](*month.temp_mean_c);
      temp_sd[m](month.temp_sd_c);
      temp_sky[m](month.temp_k_correlation);
      slope[m](month.range_k_slope);
    }
    lag1(fit.sky_lag1);
    persistence(fit.place.months[0].k_persistence);
    share(fit.place.months[0].k_year_share);
    temp_persistence(fit.place.months[0].temp_persistence);
  }
  for (std::size_t m = 0; m < 12; ++m) {
    INFO("month " << m + 1);
    CHECK_THAT(k_mean[m], WithinErrors(kContrastingMeans[m], kErrors));
    CHECK_THAT(k_sd[m].mean(),
               WithinAbs(kSpread, kErrors * k_sd[m].standard_error() + kBias * kSpread));
    CHECK_THAT(temp_mean[m], WithinErrors(kTempMeans_c[m], kErrors));
    CHECK_THAT(temp_sd[m].mean(),
               WithinAbs(kTempSpread_c, kErrors * temp_sd[m].standard_error() + 0.05));
    CHECK_THAT(temp_sky[m].mean(),
               WithinAbs(kTempWithSky, kErrors * temp_sky[m].standard_error() + kBias));
    CHECK_THAT(slope[m], WithinErrors(kRangeSlope, kErrors));
  }
  CAPTURE(lag1, persistence, share, temp_persistence);
  const double stated_lag1 = kYearShare + (1.0 - kYearShare) * kPersistence;
  CHECK_THAT(lag1.mean(), WithinAbs(stated_lag1, kErrors * lag1.standard_error() + kBias));
  CHECK_THAT(persistence.mean(),
             WithinAbs(kPersistence, kErrors * persistence.standard_error() + kBias));
  CHECK_THAT(share.mean(), WithinAbs(kYearShare, kErrors * share.standard_error() + kBias));
  CHECK_THAT(temp_persistence.mean(),
             WithinAbs(kTempPersistence, kErrors * temp_persistence.standard_error() + kBias));
  // The test can tell: none of these would pass for a persistence or share that is 0.03 off.
  CHECK(kErrors * persistence.standard_error() + kBias < 0.03);
  CHECK(kErrors * share.standard_error() + kBias < 0.03);
}

std::array<double, 12> sample_variances(const Place& frame_place,
                                        const std::vector<RecordedDay>& record) {
  std::array<double, 12> n{}, mean{}, squares{};
  for (const RecordedDay& day : record) {
    const auto m = static_cast<std::size_t>(month_index(day.date));
    const double k =
        *day.ghi_kwh_m2 * 1000.0 / extraterrestrial_of_date_wh_m2(day.date, frame_place.where);
    n[m] += 1.0;
    const double before = k - mean[m];
    mean[m] += before / n[m];
    squares[m] += before * (k - mean[m]);
  }
  std::array<double, 12> variance{};
  for (std::size_t m = 0; m < 12; ++m) variance[m] = squares[m] / (n[m] - 1.0);
  return variance;
}

TEST_CASE("A record of one year gets pooled spreads, a raised persistence and the default share") {
  const auto record = synthetic_record(2023, 1, 7);
  const Place place = frame(RecordKind::measured);
  const PlaceFit fit = fit_place(place, record);
  CHECK(fit.years == 1);
  CHECK(fit.days_used == 365);
  const auto variance = sample_variances(place, record);
  for (std::size_t m = 0; m < 12; ++m) {
    const MonthStatistics& month = fit.place.months[m];
    const double pooled = (variance[(m + 11) % 12] + variance[m] + variance[(m + 1) % 12]) / 3.0;
    CHECK_THAT(*month.k_sd, WithinRel(std::sqrt(pooled), 1e-9));
    CHECK_THAT(month.k_persistence, WithinAbs(fit.sky_lag1 + 0.05, 1e-12));
    CHECK(month.k_year_share == 0.08);
  }
}

TEST_CASE("A typical year is treated like one year, however many years it was put together from") {
  const auto record = synthetic_record(2001, 3, 8);
  const PlaceFit typical = fit_place(frame(RecordKind::typical_year), record);
  CHECK(typical.place.months[0].k_year_share == 0.08);
  CHECK_THAT(typical.place.months[0].k_persistence, WithinAbs(typical.sky_lag1 + 0.05, 1e-12));
  const PlaceFit measured = fit_place(frame(RecordKind::measured), record);
  CHECK(measured.sky_lag1 == typical.sky_lag1);
  CHECK(measured.place.months[0].k_persistence != typical.place.months[0].k_persistence);
  const auto variance = sample_variances(frame(RecordKind::measured), record);
  CHECK_THAT(*measured.place.months[4].k_sd, WithinRel(std::sqrt(variance[4]), 1e-9));
}

TEST_CASE("Days without a value or with an impossible one are counted and left out") {
  auto record = synthetic_record(2023, 1, 9);
  record[10].ghi_kwh_m2.reset();
  record[11].ghi_kwh_m2.reset();
  record[200].ghi_kwh_m2 = 14.9;
  record[201].ghi_kwh_m2 = -0.05;
  const PlaceFit fit = fit_place(frame(RecordKind::measured), record);
  CHECK(fit.days_without_value == 2);
  CHECK(fit.days_impossible == 2);
  CHECK(fit.days_used == 361);
}

std::string refusal(const std::vector<RecordedDay>& record) {
  try {
    fit_place(frame(RecordKind::measured), record);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "nothing was refused";
}

TEST_CASE("A month with fewer than twenty days, or with an impossible mean, is refused in words") {
  auto record = synthetic_record(2023, 1, 10);
  record.erase(record.begin() + 31, record.begin() + 31 + 9);
  CHECK(refusal(record) == "month 2 has 19 usable days; 20 are needed");

  record = synthetic_record(2023, 1, 10);
  for (std::size_t d = 0; d < 31; ++d) {
    record[d].ghi_kwh_m2 =
        0.9 * extraterrestrial_of_date_wh_m2(record[d].date, frame(RecordKind::measured).where) /
        1000.0;
  }
  CHECK(refusal(record) ==
        "month 1 has the mean clearness 0.900; 0.02 to 0.80 is possible: check latitude and units");
}

TEST_CASE("A record without temperatures leaves them to their defaults and says so") {
  auto record = synthetic_record(2021, 3, 11);
  for (RecordedDay& day : record) day.temp_max_c = day.temp_min_c = std::nullopt;
  const PlaceFit fit = fit_place(frame(RecordKind::measured), record);
  CHECK_FALSE(fit.place.has_temperatures());
  CHECK_THAT(fit.place.defaults, VectorContains(std::string("temperatures")));
  CHECK(fit.place.months[0].temp_sd_c == default_month(0, 45.0).temp_sd_c);
}

TEST_CASE("A spread that no distribution has is cut, with a note") {
  auto record = synthetic_record(2023, 1, 12);
  const Coordinates where = frame(RecordKind::measured).where;
  // One bright day in twelve and darkness otherwise: wider than a mean of 0.08 allows.
  for (std::size_t d = 0; d < record.size(); ++d) {
    const double k = d % 12 == 0 ? 0.95 : 0.003;
    record[d].ghi_kwh_m2 = k * extraterrestrial_of_date_wh_m2(record[d].date, where) / 1000.0;
  }
  const PlaceFit fit = fit_place(frame(RecordKind::measured), record);
  CHECK(fit.place.notes.size() > 0);
  CHECK_THAT(fit.place.notes[0], Contains("spread of month ") && Contains(" cut from "));
  for (const MonthStatistics& month : fit.place.months) {
    CHECK_NOTHROW(clearness_distribution(month));
  }
}

TEST_CASE("Days over a gap or a month's end do not count as neighbours") {
  // The sky alternates day by day, so neighbours are as different as can be.
  auto record = synthetic_record(2021, 2, 13);
  const Coordinates where = frame(RecordKind::measured).where;
  for (std::size_t d = 0; d < record.size(); ++d) {
    const double k = (d % 2 == 0 ? 0.3 : 0.6) + 0.0001 * static_cast<double>(d % 7);
    record[d].ghi_kwh_m2 = k * extraterrestrial_of_date_wh_m2(record[d].date, where) / 1000.0;
  }
  CHECK(fit_place(frame(RecordKind::measured), record).sky_lag1 < -0.5);
  // Without the even days of each month only a 31st and a 1st are neighbours.
  for (RecordedDay& day : record) {
    if (day_of_month(day.date) % 2 == 0) day.ghi_kwh_m2.reset();
  }
  CHECK(fit_place(frame(RecordKind::measured), record).sky_lag1 == 0.0);
}

}  // namespace
}  // namespace dullspell
