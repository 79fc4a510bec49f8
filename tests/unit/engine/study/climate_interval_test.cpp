#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <vector>

#include <boost/math/distributions/normal.hpp>
#include <catch2/catch.hpp>

#include "engine/study/climate_interval.hpp"
#include "engine/study/prepare.hpp"
#include "engine/study/study.hpp"
#include "tests/support/engine_plan.hpp"

namespace dullspell::climate_interval_test {

namespace {

/// What a statistic of a place gets, by alternative.
std::vector<double> deviates(const std::vector<std::vector<ClimateDeviates>>& climates,
                             std::size_t place, std::size_t statistic) {
  std::vector<double> out;
  for (const auto& climate : climates) out.push_back(climate.at(place)[statistic]);
  return out;
}

double correlation(const std::vector<double>& a, const std::vector<double>& b) {
  // Means are 0: deviates are symmetric.
  return std::inner_product(a.begin(), a.end(), b.begin(), 0.0) /
         std::sqrt(std::inner_product(a.begin(), a.end(), a.begin(), 0.0) *
                   std::inner_product(b.begin(), b.end(), b.begin(), 0.0));
}

/// A battery that holds three usual days; whether it does hangs on the sky.
const std::string kPlan = R"(
arrive = 2027-10-12T14:00:00
[[camp]]
place = "port-angeles-wa"
nights = 4
[battery]
capacity_wh = 1000
[[panels]]
rated_w = 200
[[load]]
name = "radio"
watts = 25
)";

const std::string kGenerator = R"(
[generator]
rated_w = 1000
charger_w = 100
allowed = [["17:00", "18:00"]]
)";

StudyResult study(const PreparedPlan& plan, std::uint64_t stays, int threads = 2,
                  std::uint64_t seed = 1) {
  StudyOptions options;
  options.stays = stays;
  options.threads = threads;
  options.seed = seed;
  return run_study(plan, options);
}

/// kPlan with the level of every month known so well, and all else exactly.
PreparedPlan plan_with_error(double k_mean_error) {
  Plan plan = plan_of(kPlan);
  for (MonthStatistics& month : plan.camps[0].place.months) {
    const PerStatistic<Estimate*> stated = month.estimates();
    for (std::size_t i = 0; i < kStatistics; ++i) stated[i]->standard_error = 0.0;
    month.k_mean.standard_error = k_mean_error;
  }
  return prepare(plan);
}

/// Counts of a hundred stays each: 30 under the stated climate, then the alternatives'.
std::vector<std::uint64_t> counts_about(const std::vector<std::uint64_t>& alternatives) {
  std::vector<std::uint64_t> counts{30};
  counts.insert(counts.end(), alternatives.begin(), alternatives.end());
  return counts;
}

}  // namespace

TEST_CASE("each dimension of the alternatives has every one of 32 deviates once") {
  const auto climates = alternative_climates(3, 1);
  REQUIRE(climates.size() == 32);
  const boost::math::normal normal;
  for (std::size_t place = 0; place < 3; ++place) {
    for (std::size_t statistic = 0; statistic < kStatistics; ++statistic) {
      auto found = deviates(climates, place, statistic);
      std::sort(found.begin(), found.end());
      for (int i = 0; i < 32; ++i) {
        CHECK(found[static_cast<std::size_t>(i)] ==
              Approx(boost::math::quantile(normal, (i + 0.5) / 32.0)));
      }
    }
  }
}

TEST_CASE("dimensions, places and seeds have their deviates in orders of their own") {
  const auto climates = alternative_climates(3, 1);
  std::vector<std::vector<double>> all;
  for (std::size_t place = 0; place < 3; ++place) {
    for (std::size_t statistic = 0; statistic < kStatistics; ++statistic) {
      all.push_back(deviates(climates, place, statistic));
    }
  }
  double squares = 0.0, pairs = 0.0;
  for (std::size_t a = 0; a < all.size(); ++a) {
    for (std::size_t b = a + 1; b < all.size(); ++b) {
      const double r = correlation(all[a], all[b]);
      CHECK(std::abs(r) < 0.7);  // 4 standard errors of 1 / sqrt(31)
      squares += r * r;
      pairs += 1.0;
    }
  }
  // Independent orders correlate by 1 / 31 in the mean square; 435 pairs tell it to a fifteenth.
  CHECK(squares / pairs == Approx(1.0 / 31.0).epsilon(0.3));
  const auto level = deviates(climates, 0, 0);
  CHECK(deviates(alternative_climates(3, 1), 0, 0) == level);
  CHECK(deviates(alternative_climates(3, 2), 0, 0) != level);
  // A place has the same alternatives whatever other places there are.
  CHECK(deviates(alternative_climates(1, 1), 0, 0) == level);
}

TEST_CASE("counts under all climates are the same for any number of threads") {
  const PreparedPlan plan = prepared_of(kPlan + kGenerator);
  const auto one = run_climates(plan, 1, 8'000, 1);
  REQUIRE(one.size() == 33);
  for (const int threads : {2, 3, 8}) {
    const auto more = run_climates(plan, 1, 8'000, threads);
    for (std::size_t i = 0; i < one.size(); ++i) {
      CHECK(more[i].stays == 500);
      CHECK(more[i].home == one[i].home);
      CHECK(more[i].along == one[i].along);
    }
  }
}

TEST_CASE("the first of the climates is the stated one on the study's own first stays") {
  const PreparedPlan plan = prepared_of(kPlan + kGenerator);
  const auto climates = run_climates(plan, 1, 8'000, 2);
  const Tally tally = run_stays(plan, DrawnSky(plan, 1), 1, 0, 500, 2);
  CHECK(climates.front().home == tally.home.fails_on_day);
  CHECK(climates.front().along == tally.along.fails_on_day);
}

TEST_CASE("alternatives run on a sixteenth of the stays, one at least and 4,096 at most") {
  const PreparedPlan plan = prepared_of(R"(
arrive = 2027-10-12T22:00:00
leave = 02:00:00
[[camp]]
place = "port-angeles-wa"
nights = 1
[battery]
capacity_wh = 1000
[[load]]
name = "radio"
watts = 25
)");
  CHECK(run_climates(plan, 1, 15, 1).front().stays == 1);
  CHECK(run_climates(plan, 1, 1'600, 1).front().stays == 100);
  CHECK(run_climates(plan, 1, 1'000'000, 1).front().stays == 4'096);
}

TEST_CASE("an interval without doubt is the sampling interval") {
  const Proportion share(3'000, 10'000);
  const Interval found =
      climate_interval(share, counts_about(std::vector<std::uint64_t>(32, 30)), 100);
  CHECK(found.low == Approx(share.interval.low));
  CHECK(found.high == Approx(share.interval.high));
}

TEST_CASE("an interval is the central 95 % of the alternatives, widened by sampling") {
  // 1 to 32 flat stays of a hundred above the stated 30; with 32 values at (i - 1/2) / 32 the 97.5
  // % quantile lies 0.3 short of the last: 0.317 above.
  std::vector<std::uint64_t> alternatives(32);
  std::iota(alternatives.begin(), alternatives.end(), 31);
  const Proportion share(3'100, 10'000);
  const Interval found = climate_interval(share, counts_about(alternatives), 100);
  // All lie above: below there is nothing but sampling.
  CHECK(found.low == Approx(share.interval.low));
  CHECK(found.high == Approx(share.p + std::hypot(0.317, share.interval.high - share.p)));
  // From 30 below to 1 above: the 2.5 % quantile lies 0.3 beyond the first, 0.297 below.
  std::vector<std::uint64_t> below(32);
  std::iota(below.begin(), below.end(), 0);
  const Interval mirrored = climate_interval(share, counts_about(below), 100);
  CHECK(mirrored.low == Approx(share.p - std::hypot(0.297, share.p - share.interval.low)));
}

TEST_CASE("an interval holds its share and stays within 0 and 1") {
  for (const std::uint64_t count : {0u, 1u, 5'000u, 9'999u, 10'000u}) {
    for (const std::uint64_t other : {0u, 30u, 100u}) {
      CAPTURE(count, other);
      std::vector<std::uint64_t> alternatives(32, other);
      alternatives[7] = 100 - other;
      const Proportion share(count, 10'000);
      const Interval found = climate_interval(share, counts_about(alternatives), 100);
      CHECK(found.low >= 0.0);
      CHECK(found.high <= 1.0);
      CHECK(found.low <= share.interval.low + 1e-12);
      CHECK(found.high >= share.interval.high - 1e-12);
    }
  }
}

TEST_CASE("half the doubt of a place has about half the width") {
  // In quadrature with the 0.010 that every place has: 0.060 and 0.030 of level in all.
  const auto width = [](double level) {
    const PreparedPlan plan = plan_with_error(std::sqrt(level * level - 0.010 * 0.010));
    const StudyResult result = study(plan, 8'000);
    const Interval climate = *result.home.flat_climate;
    CAPTURE(level, result.home.flat.p, climate.low, climate.high);
    CHECK(result.home.flat.p > 0.2);
    CHECK(result.home.flat.p < 0.8);
    CHECK(climate.low < result.home.flat.interval.low);
    CHECK(climate.high > result.home.flat.interval.high);
    return climate.high - climate.low;
  };
  const double whole = width(0.060), half = width(0.030);
  CHECK(half / whole == Approx(0.5).margin(0.08));
}

TEST_CASE("how well temperatures are known widens the climate interval of a plan with a furnace") {
  const auto climate_width = [](const std::string& temp_mean_error) {
    const StudyResult result = study(prepared_of(R"(
arrive = 2027-01-12T14:00:00
[[camp]]
nights = 4
[camp.place]
latitude = 44
longitude = -112
utc_offset_h = -7
k_mean = 0.5
k_sd = 0.1
temp_mean_c = 0
[camp.place.standard_error]
k_mean = 0.001
temp_mean_c = )" + temp_mean_error + R"(
[battery]
capacity_wh = 1950
[furnace]
blower_w = 85
output_w = 5000
heat_loss_w_per_k = 120
hold_c = [ { from = "18:00", to = "08:00", c = 16 } ]
)"),
                                     8'000);
    CAPTURE(temp_mean_error, result.home.flat.p);
    CHECK(result.home.flat.p > 0.2);
    CHECK(result.home.flat.p < 0.8);
    return result.home.flat_climate->high - result.home.flat_climate->low;
  };
  const double exact = climate_width("0"), hardly = climate_width("8");
  CAPTURE(exact, hardly);
  CHECK(exact < 0.05);
  CHECK(hardly > 0.7);
}

/// How far the climate interval reaches on both sides, without the sampling interval.
double beyond_sampling(const PreparedPlan& plan) {
  const StudyResult result = study(plan, 16'000);
  const Proportion& flat = result.home.flat;
  const auto without = [](double whole, double sampling) {
    return std::sqrt(whole * whole - sampling * sampling);
  };
  return without(flat.p - result.home.flat_climate->low, flat.p - flat.interval.low) +
         without(result.home.flat_climate->high - flat.p, flat.interval.high - flat.p);
}

TEST_CASE("a place known exactly leaves instruments and decades alone to doubt") {
  // They are 0.010 of the level; 0.060 in all moves the share six times as far.
  const double instruments = beyond_sampling(plan_with_error(0.0));
  const double sixfold = beyond_sampling(plan_with_error(std::sqrt(0.060 * 0.060 - 0.010 * 0.010)));
  CAPTURE(instruments, sixfold);
  CHECK(instruments / sixfold == Approx(1.0 / 6.0).margin(0.03));
}

TEST_CASE("a study carries climate intervals for the stay and its days on both tracks") {
  const StudyResult result = study(prepared_of(kPlan + kGenerator), 4'000);
  REQUIRE(result.generator);
  for (const TrackRisk* risk : {&result.home, &result.generator->risk}) {
    REQUIRE(risk->flat_climate);
    CHECK(risk->flat_climate->low <= risk->flat.interval.low);
    CHECK(risk->flat_climate->high >= risk->flat.interval.high);
    for (const DayRisk& day : risk->days) {
      REQUIRE(day.flat_by_day_climate);
      CHECK(day.flat_by_day_climate->low <= day.flat_by_day.interval.low);
      CHECK(day.flat_by_day_climate->high >= day.flat_by_day.interval.high);
    }
    CHECK(risk->days.back().flat_by_day_climate->low == risk->flat_climate->low);
    CHECK(risk->days.back().flat_by_day_climate->high == risk->flat_climate->high);
  }
  CHECK(result.home.flat_climate->high - result.home.flat_climate->low > 0.1);
}

TEST_CASE("weather that is not drawn from places has no climate interval") {
  const PreparedPlan plan = prepared_of(kPlan + kGenerator);
  StudyOptions options;
  options.stays = 200;
  const StudyResult result = run_study(plan, steady_sky(mild_day(0.5)), options);
  CHECK_FALSE(result.home.flat_climate);
  REQUIRE(result.generator);
  CHECK_FALSE(result.generator->risk.flat_climate);
  for (const DayRisk& day : result.home.days) CHECK_FALSE(day.flat_by_day_climate);
}

TEST_CASE("more stays narrow the sampling interval and not that of the climate") {
  const PreparedPlan plan = prepared_of(kPlan);
  const StudyResult few = study(plan, 2'000), many = study(plan, 32'000);
  const auto width = [](const Interval& interval) { return interval.high - interval.low; };
  CHECK(width(many.home.flat.interval) < 0.3 * width(few.home.flat.interval));
  CHECK(width(*many.home.flat_climate) == Approx(width(*few.home.flat_climate)).epsilon(0.15));
}

TEST_CASE("a study has the same climate intervals again, with any number of threads") {
  const PreparedPlan plan = prepared_of(kPlan);
  const Interval first = *study(plan, 2'000, 1).home.flat_climate;
  for (const int threads : {1, 3, 8}) {
    const Interval again = *study(plan, 2'000, threads).home.flat_climate;
    CHECK(again.low == first.low);
    CHECK(again.high == first.high);
  }
  CHECK(study(plan, 2'000, 1, 2).home.flat_climate->low != first.low);
}

TEST_CASE("alternatives without an answer leave an interval open") {
  // The stated climate is entry 0.
  std::vector<double> values(1 + kAlternativeClimates, 2.0);
  const Interval closed = climate_interval(2.0, {1.9, 2.2}, values);
  CHECK(closed.low == Approx(1.9));
  CHECK(closed.high == Approx(2.2));
  CHECK(climate_interval(2.0, {1.9, INFINITY}, values).high == INFINITY);
  // One of 32 is more than 2.5 %.
  values[7] = INFINITY;
  const Interval open = climate_interval(2.0, {1.9, 2.2}, values);
  CHECK(open.low == Approx(1.9));
  CHECK(open.high == INFINITY);
}

}  // namespace dullspell::climate_interval_test
