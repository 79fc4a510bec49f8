#include <cmath>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "engine/study/hindcast.hpp"
#include "engine/study/prepare.hpp"
#include "engine/study/study.hpp"
#include "tests/support/batch_mean.hpp"
#include "tests/support/engine_oracle.hpp"
#include "tests/support/engine_plan.hpp"
#include "weather/place_climate.hpp"
#include "weather/temperature.hpp"

using namespace dullspell;

// A record drawn from a place's own statistics must be hindcast to the probability that the study
// computes from them: through irradiation, clearness, periods, engine and shares.

namespace {

using std::chrono::days;

constexpr int kFirstYear = 2001, kYears = 400;
constexpr int kStays = 40'000;

// The same statistics all year, so that periods of a window are all alike; the sun's path is that
// of the plan's own dates in study and hindcast.
const std::string kSteadyYear = R"(
arrive = 2027-04-12T14:00:00
[[camp]]
nights = 4
[camp.place]
latitude = 44
longitude = -112
utc_offset_h = -7
k_mean = 0.45
k_sd = 0.18
k_persistence = 0.35
k_year_share = 0.12
temp_mean_c = 6
temp_sd_c = 4
temp_k_correlation = -0.3
)";

// Months that differ, at the end of one: dates blend two of them.
const std::string kAutumn = R"(
arrive = 2027-10-29T14:00:00
[[camp]]
place = "port-angeles-wa"
nights = 4
)";

const std::string kKit = R"(
[battery]
capacity_wh = 1100
where = "outside"
[[panels]]
rated_w = 200
[[load]]
name = "radio"
watts = 32
)";

const std::string kSmallerKit = R"(
[battery]
capacity_wh = 1100
[[panels]]
rated_w = 200
[[load]]
name = "radio"
watts = 20
)";

/// Years of the days about a plan's stay, drawn anew for each; clearness times `k_scale`.
WeatherRecord drawn_record(const Plan& plan, const PreparedPlan& prepared, int window_days,
                           double k_scale) {
  constexpr std::uint64_t kSeed = 90'210;
  const Place& place = plan.camps[0].place;
  const PlaceClimate climate(place);
  std::vector<DateClimate> on;
  std::vector<DayLink> links;
  for (int d = -window_days; d < prepared.days() + window_days; ++d) {
    on.push_back(climate.on(prepared.dates.front() + days{d}));
    links.push_back(day_link(on.back()));
  }
  const DaySequence sequence(links);
  std::vector<DayDeviates> drawn(links.size());
  const std::chrono::year_month_day arrival{prepared.dates.front()};
  WeatherRecord record;
  for (int year = 0; year < kYears; ++year) {
    sequence.draw(kSeed, static_cast<std::uint32_t>(year), drawn);
    const Date begin =
        Date{std::chrono::year{kFirstYear + year} / arrival.month() / arrival.day()} -
        days{window_days};
    for (std::size_t d = 0; d < drawn.size(); ++d) {
      const DateClimate& c = on[d];
      RecordedDay day{};
      day.date = begin + days{static_cast<int>(d)};
      const double k = c.k_of_chi(drawn[d].chi);
      const double rho = c.temp_k_correlation.value;
      day.temp_mean_c = c.temp_mean_c.value +
                        c.temp_sd_c.value * (rho * drawn[d].chi +
                                             std::sqrt(1.0 - rho * rho) * drawn[d].temp_innovation);
      const double range_c =
          daily_range_c(c.temp_range_c.value, c.range_k_slope.value, k, c.k_mean.value);
      day.temp_max_c = *day.temp_mean_c + 0.5 * range_c;
      day.temp_min_c = *day.temp_mean_c - 0.5 * range_c;
      day.ghi_kwh_m2 = k_scale * k * extraterrestrial_of_date_wh_m2(day.date, place.where) / 1000.0;
      record.days.push_back(day);
    }
  }
  return record;
}

struct Comparison {
  Proportion study;
  YearsShare hindcast;
  BatchMean years;  // the share of each: years are drawn apart from each other, periods are not

  Comparison(const std::string& toml, int window_days, double k_scale) {
    const Plan plan = plan_of(toml);
    const PreparedPlan prepared = prepare(plan);
    StudyOptions options;
    options.stays = kStays;
    options.seed = 4;
    options.threads = 1;
    study = run_study(prepared, options).home.flat;
    const PastWeather past(drawn_record(plan, prepared, window_days, k_scale),
                           plan.camps[0].place.where);
    HindcastOptions replay;
    replay.window_days = window_days;
    replay.threads = 1;
    const HindcastResult result = run_hindcast(prepared, past, replay);
    for (const PastYear& year : result.years) {
      years(static_cast<double>(year.flat) / year.periods);
    }
    hindcast = result.flat;
    CHECK(result.years.size() == kYears);
    CHECK(result.periods.size() == kYears * (2 * static_cast<std::size_t>(window_days) + 1));
    CHECK(result.periods_left_out == 0);
    CHECK(result.days_without_temperature == 0);
  }

  double errors_apart() const {
    return std::abs(hindcast.p - study.p) /
           std::hypot(years.standard_error(), std::sqrt(study.p * (1.0 - study.p) / kStays));
  }
};

}  // namespace

TEST_CASE("a record drawn from the model is hindcast to the study's own probability") {
  const Comparison same(kSteadyYear + kKit, 7, 1.0);
  CAPTURE(same.study.p, same.hindcast.p, same.years.standard_error());
  CHECK(same.study.p > 0.1);
  CHECK(same.study.p < 0.5);
  CHECK(same.hindcast.p == Approx(same.years.mean()).epsilon(1e-12));
  CHECK(same.errors_apart() <= kMostErrors);
  // Periods of one year are far from independent, and the interval knows.
  const double careless =
      std::sqrt(same.study.p * (1.0 - same.study.p) / static_cast<double>(same.hindcast.periods));
  CHECK(same.years.standard_error() > 2.0 * careless);
  CHECK(same.hindcast.interval.half_width() ==
        Approx(1.96 * same.years.standard_error()).epsilon(0.10));
}

TEST_CASE("a record with a tenth less sun is not hindcast to the study's probability") {
  const Comparison biased(kSteadyYear + kKit, 7, 0.9);
  CAPTURE(biased.study.p, biased.hindcast.p, biased.years.standard_error());
  CHECK(biased.hindcast.p > biased.study.p);
  CHECK(biased.errors_apart() > kMostErrors);
}

TEST_CASE("the same holds amid blended months, for the plan's own dates alone") {
  const Comparison same(kAutumn + kSmallerKit, 0, 1.0);
  CAPTURE(same.study.p, same.hindcast.p, same.years.standard_error());
  CHECK(same.study.p > 0.1);
  CHECK(same.study.p < 0.9);
  CHECK(same.errors_apart() <= kMostErrors);
  CHECK(Comparison(kAutumn + kSmallerKit, 0, 0.8).errors_apart() > kMostErrors);
}
