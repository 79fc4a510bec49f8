#include <cmath>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "tests/support/batch_mean.hpp"
#include "tests/support/test_place.hpp"
#include "weather/day_sequence.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;

constexpr std::uint64_t kSeed = 20270521;
constexpr std::uint32_t kStays = 10'000;

// False alarms at three standard errors: 0.27 % a check, once for this seed.
constexpr double kErrors = 3.0;

std::vector<DateClimate> climates(const Place& place, Date first, int days) {
  const PlaceClimate climate(place);
  std::vector<DateClimate> out;
  for (int d = 0; d < days; ++d) out.push_back(climate.on(first + std::chrono::days{d}));
  return out;
}

DaySequence sequence_of(const std::vector<DateClimate>& dates) {
  std::vector<DayLink> links;
  for (const DateClimate& date : dates) links.push_back(day_link(date));
  return DaySequence(links);
}

// Correlation of the deviates chi of a day and the next, by the model's equation.
double chi_correlation(const DateClimate& today, const DateClimate& tomorrow) {
  const double s = today.k_year_share.value, t = tomorrow.k_year_share.value;
  return std::sqrt(s * t) + std::sqrt((1.0 - s) * (1.0 - t)) * tomorrow.k_persistence.value;
}

// What the stated model implies for a stretch of dates, as averages over its days.
struct Stated {
  std::vector<double> mean, sd;  ///< by day
  double variance = 0.0;
  double covariance = 0.0;  ///< of a day with the next

  explicit Stated(const std::vector<DateClimate>& dates, double added_correlation = 0.0) {
    for (const DateClimate& date : dates) {
      mean.push_back(date.k_of_chi.mean());
      sd.push_back(date.k_of_chi.sd());
      variance += sd.back() * sd.back() / static_cast<double>(dates.size());
    }
    double correlation = 0.0;
    for (std::size_t d = 1; d < dates.size(); ++d) {
      const DateClimate &today = dates[d - 1], &tomorrow = dates[d];
      // In mid-month one pair of days is like the next.
      const bool same = d > 1 && today.k_of_chi.values() == dates[d - 2].k_of_chi.values() &&
                        tomorrow.k_of_chi.values() == today.k_of_chi.values();
      if (!same) {
        correlation = clearness_correlation(today.k_of_chi, tomorrow.k_of_chi,
                                            chi_correlation(today, tomorrow) + added_correlation);
      }
      covariance += correlation * sd[d - 1] * sd[d] / static_cast<double>(dates.size() - 1);
    }
  }
};

// What ten thousand months show; each month is one independent unit.
struct Drawn {
  BatchMean mean, variance, covariance;

  Drawn(const std::vector<DateClimate>& dates, const Stated& stated) {
    const DaySequence sequence = sequence_of(dates);
    const std::size_t days = dates.size();
    std::vector<DayDeviates> deviates(days);
    for (std::uint32_t stay = 0; stay < kStays; ++stay) {
      sequence.draw(kSeed, stay, deviates);
      double sum = 0.0, squares = 0.0, products = 0.0, before = 0.0;
      for (std::size_t d = 0; d < days; ++d) {
        const double k = dates[d].k_of_chi(deviates[d].chi);
        const double off = k - stated.mean[d];
        sum += off;
        squares += off * off;
        if (d > 0) products += before * off;
        before = off;
      }
      mean(sum / static_cast<double>(days));
      variance(squares / static_cast<double>(days));
      covariance(products / static_cast<double>(days - 1));
    }
  }
};

void check_months(const Place& place, Date first, int days) {
  const auto dates = climates(place, first, days);
  const Stated stated(dates);
  const Drawn drawn(dates, stated);
  CHECK_THAT(drawn.mean, WithinErrors(0.0, kErrors));  // about each day's own mean
  CHECK_THAT(drawn.variance, WithinErrors(stated.variance, kErrors));
  CHECK_THAT(drawn.covariance, WithinErrors(stated.covariance, kErrors));
}

std::array<double, 12> all_year(double k_mean) {
  std::array<double, 12> means{};
  means.fill(k_mean);
  return means;
}

TEST_CASE("Months of a place with quantiles have the stated mean, spread and persistence") {
  check_months(place_with_quantiles(all_year(0.50)), make_date(2027, 6, 1), 30);
}

TEST_CASE("Months of a sunny place with a spread have the stated mean, spread and persistence") {
  check_months(place_with_spread(all_year(0.70), 0.09), make_date(2027, 6, 1), 30);
}

TEST_CASE("Months of a dull place with a spread have the stated mean, spread and persistence") {
  check_months(place_with_spread(all_year(0.28), 0.17), make_date(2027, 12, 1), 31);
}

TEST_CASE("Months of a place known by its means have the stated mean, spread and persistence") {
  check_months(place_with_means(all_year(0.45)), make_date(2027, 4, 1), 30);
}

Place persistent_place() {
  Place place = place_with_spread(all_year(0.40), 0.16);
  for (MonthStatistics& month : place.months) {
    month.k_persistence = 0.60;
    month.k_year_share = 0.20;
  }
  return place;
}

TEST_CASE("Months of a persistent place with a share of the year come out as stated") {
  check_months(persistent_place(), make_date(2027, 1, 1), 31);
}

TEST_CASE("Stays over the boundary of contrasting months come out as stated") {
  Place place = place_with_spread(kContrastingMeans, 0.15);
  for (std::size_t m = 0; m < 12; ++m) {
    place.months[m].k_persistence = m % 2 == 0 ? 0.15 : 0.45;
    place.months[m].k_year_share = m % 2 == 0 ? 0.12 : 0.02;
  }
  check_months(place, make_date(2027, 2, 14), 30);
}

TEST_CASE("The test of months rejects a correlation, a mean and a spread that are a little off") {
  const auto dates = climates(place_with_quantiles(all_year(0.50)), make_date(2027, 6, 6), 20);
  const Stated stated(dates), wrong(dates, 0.05);
  const Drawn drawn(dates, stated);
  CHECK_THAT(drawn.covariance, !WithinErrors(wrong.covariance, kErrors));
  CHECK_THAT(drawn.mean, !WithinErrors(0.005, kErrors));
  CHECK_THAT(drawn.variance, !WithinErrors(1.03 * stated.variance, kErrors));
}

TEST_CASE("Years differ by the stated share: days far apart keep it as their correlation") {
  const auto dates = climates(persistent_place(), make_date(2027, 1, 6), 21);
  const DaySequence sequence = sequence_of(dates);
  std::vector<DayDeviates> deviates(dates.size());
  BatchMean far_apart;
  for (std::uint32_t stay = 0; stay < kStays; ++stay) {
    sequence.draw(kSeed, stay, deviates);
    far_apart(deviates[0].chi * deviates[20].chi);
  }
  const double stated = 0.20 + 0.80 * std::pow(0.60, 20);
  CHECK_THAT(far_apart, WithinErrors(stated, kErrors));
  CHECK_THAT(far_apart, !WithinErrors(0.0, kErrors));
}

TEST_CASE("A stay is a function of seed and number alone") {
  const DaySequence sequence = sequence_of(climates(persistent_place(), make_date(2027, 1, 6), 10));
  const auto draw = [&](std::uint64_t seed, std::uint32_t stay) {
    std::vector<DayDeviates> out(sequence.days());
    sequence.draw(seed, stay, out);
    std::vector<double> values;
    for (const DayDeviates& day : out) {
      values.push_back(day.chi);
      values.push_back(day.temp_innovation);
    }
    return values;
  };
  const auto once = draw(kSeed, 17);
  draw(kSeed, 16);
  CHECK(draw(kSeed, 17) == once);
  CHECK(draw(kSeed, 18) != once);
  CHECK(draw(kSeed + 1, 17) != once);
  CHECK(draw(kSeed + (std::uint64_t{1} << 32), 17) != once);
}

TEST_CASE("A shorter stay is the beginning of a longer one") {
  const auto dates = climates(persistent_place(), make_date(2027, 1, 6), 10);
  std::vector<DayDeviates> longer(10), shorter(4);
  sequence_of(dates).draw(kSeed, 3, longer);
  sequence_of({dates.begin(), dates.begin() + 4}).draw(kSeed, 3, shorter);
  for (std::size_t d = 0; d < 4; ++d) {
    CHECK(shorter[d].chi == longer[d].chi);
    CHECK(shorter[d].temp_innovation == longer[d].temp_innovation);
  }
}

TEST_CASE("Temperature anomalies have the stated persistence and correlation with the sky") {
  Place place = place_with_spread(all_year(0.40), 0.16);
  for (MonthStatistics& month : place.months) {
    month.k_persistence = 0.40;
    month.k_year_share = 0.30;
    month.temp_persistence = 0.70;
    month.temp_k_correlation = -0.60;
  }
  const auto dates = climates(place, make_date(2027, 1, 6), 20);
  const DaySequence sequence = sequence_of(dates);
  std::vector<DayDeviates> days(dates.size());
  BatchMean variance, with_sky, with_tomorrow, warm_with_sky;
  for (std::uint32_t stay = 0; stay < kStays; ++stay) {
    sequence.draw(kSeed, stay, days);
    double squares = 0.0, sky = 0.0, tomorrow = 0.0, independent = 0.0, before = 0.0;
    for (std::size_t d = 0; d < days.size(); ++d) {
      const double rho = place.months[0].temp_k_correlation.value;
      const double anomaly =
          rho * days[d].chi + std::sqrt(1.0 - rho * rho) * days[d].temp_innovation;
      squares += anomaly * anomaly / 20.0;
      sky += anomaly * days[d].chi / 20.0;
      independent += days[d].temp_innovation * days[d].chi / 20.0;
      if (d > 0) tomorrow += before * anomaly / 19.0;
      before = anomaly;
    }
    variance(squares);
    with_sky(sky);
    with_tomorrow(tomorrow);
    warm_with_sky(independent);
  }
  CHECK_THAT(variance, WithinErrors(1.0, kErrors));
  CHECK_THAT(with_sky, WithinErrors(-0.60, kErrors));
  CHECK_THAT(with_tomorrow, WithinErrors(0.70, kErrors));
  CHECK_THAT(warm_with_sky, WithinErrors(0.0, kErrors));
  CHECK_THAT(with_tomorrow, !WithinErrors(0.70 + 0.03, kErrors));
}

TEST_CASE("A day's links carry unit variance from one day to the next, on the common grid") {
  const auto dates = climates(persistent_place(), make_date(2027, 1, 31), 1);
  const DayLink link = day_link(dates[0]);
  CHECK(link.sky_kept == std::nearbyint(0.60 * 65536.0) / 65536.0);
  constexpr double kGrid = 2.0 / 65536.0;
  CHECK_THAT(std::hypot(link.sky_kept, link.sky_new), WithinAbs(1.0, kGrid));
  CHECK_THAT(std::hypot(link.of_year, link.of_day), WithinAbs(1.0, kGrid));
  CHECK_THAT(std::hypot(link.innovation_kept, link.innovation_new), WithinAbs(1.0, kGrid));
}

}  // namespace
}  // namespace dullspell
