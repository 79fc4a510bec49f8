#include <cmath>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "engine/study/prepare.hpp"
#include "tests/support/batch_mean.hpp"
#include "tests/support/engine_plan.hpp"
#include "weather/standard_errors.hpp"

namespace dullspell::stay_climate_test {

namespace {

const std::string kKit =
    "[battery]\ncapacity_wh = 900\nstart_charge = 1.0\n[[load]]\nname = \"lamp\"\nwatts = 5\n";

/// Two places, a change of camp, the end of a month.
const std::string kTwoCamps = R"(
arrive = 2027-05-29T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 3
[[camp]]
place = { latitude = 38.6, longitude = -119.6 }
nights = 3
elevation_m = 2300
)" + kKit;

const std::string kKnown = R"(
yesterday = "overcast"
forecast = [{ day = 2, k = 0.45, k_spread = 0.02 }, { day = 5, sky = "clear" }]
)" + kTwoCamps;

const std::string kUnderWay = "now = 2027-05-31T09:00:00\n" + kTwoCamps;

/// In the middle of a month that K cannot leave 0..1 in: narrow and half clear.
const std::string kNarrow = R"(
arrive = 2027-06-12T00:00:00
[[camp]]
nights = 3
[camp.place]
latitude = 44
longitude = -112
utc_offset_h = -7
k_mean = 0.5
k_sd = 0.05
temp_mean_c = 15
)" + kKit;

std::vector<SegmentSky> fill(const PreparedPlan& plan, const DrawnSky& sky, std::uint32_t stay) {
  std::vector<SegmentSky> out(plan.segments.size());
  sky.fill(stay, out);
  return out;
}

void check_same_draws(const PreparedPlan& plan, const StayClimate& climate) {
  const DrawnSky stated(plan, 9), other(plan, climate, 9);
  for (std::uint32_t stay = 0; stay < 100; ++stay) {
    const auto a = fill(plan, stated, stay), b = fill(plan, other, stay);
    for (std::size_t i = 0; i < a.size(); ++i) {
      REQUIRE(a[i].k == b[i].k);
      REQUIRE(a[i].temp_mean_c == b[i].temp_mean_c);
      REQUIRE(a[i].temp_range_c == b[i].temp_range_c);
    }
  }
}

std::vector<ClimateDeviates> everywhere(const PreparedPlan& plan, const ClimateDeviates& errors) {
  return std::vector<ClimateDeviates>(plan.climate.places(), errors);
}

DateClimate stated_climate(const Plan& plan) {
  return of_other_decades(PlaceClimate(plan.camps[0].place).on(make_date(2027, 6, 14)));
}

}  // namespace

TEST_CASE("the stated climate draws what the plan draws, to the bit") {
  for (const std::string& text : {kTwoCamps, kKnown, kUnderWay, kNarrow}) {
    const PreparedPlan plan = prepared_of(text);
    check_same_draws(plan, plan.climate.stated());
  }
}

TEST_CASE("a climate off by nothing is the stated one, to the bit") {
  for (const std::string& text : {kTwoCamps, kKnown, kUnderWay, kNarrow}) {
    const PreparedPlan plan = prepared_of(text);
    check_same_draws(plan, plan.climate.off_by(everywhere(plan, {})));
  }
}

TEST_CASE("a level off by one standard error moves every drawn day by it") {
  const Plan text = plan_of(kNarrow);
  const PreparedPlan plan = prepare(text);
  const double level = *stated_climate(text).k_mean.standard_error;
  REQUIRE(level == Approx(std::hypot(0.020, 0.010)));  // monthly means
  for (const double errors : {1.0, -1.0, 2.0}) {
    const StayClimate off = plan.climate.off_by(everywhere(plan, {errors, 0.0, 0.0, 0.0}));
    const DrawnSky stated(plan, 9), moved(plan, off, 9);
    for (std::uint32_t stay = 0; stay < 200; ++stay) {
      const auto a = fill(plan, stated, stay), b = fill(plan, moved, stay);
      for (std::size_t i = 0; i < a.size(); ++i) {
        REQUIRE(b[i].k - a[i].k == Approx(errors * level).margin(2.0 / 65536.0));
      }
    }
  }
}

TEST_CASE("a spread off by one standard error widens the draws by it, about their mean") {
  const Plan text = plan_of(kNarrow);
  const PreparedPlan plan = prepare(text);
  const double spread = *stated_climate(text).k_sd.standard_error;
  const StayClimate off = plan.climate.off_by(everywhere(plan, {0.0, 1.0, 0.0, 0.0}));
  const double mean = plan.segments[1].k_mean;
  const double ratio = 1.0 + spread / plan.segments[1].k_of_chi.sd();
  const DrawnSky stated(plan, 9), moved(plan, off, 9);
  for (std::uint32_t stay = 0; stay < 200; ++stay) {
    const auto a = fill(plan, stated, stay), b = fill(plan, moved, stay);
    if (std::abs(a[1].k - mean) > 0.15) continue;  // within 0..1 whatever the spread
    REQUIRE(b[1].k - mean == Approx(ratio * (a[1].k - mean)).margin(1e-3));
  }
}

TEST_CASE("persistence and the year's share make the days of a stay hang together") {
  const PreparedPlan plan = prepared_of(kNarrow);
  const auto correlation = [&](const ClimateDeviates& errors) {
    const StayClimate off = plan.climate.off_by(everywhere(plan, errors));
    const DrawnSky sky(plan, off, 9);
    double ab = 0.0, aa = 0.0, bb = 0.0;
    for (std::uint32_t stay = 0; stay < 4000; ++stay) {
      const auto days = fill(plan, sky, stay);
      const double a = days[1].k - 0.5, b = days[2].k - 0.5;
      ab += a * b;
      aa += a * a;
      bb += b * b;
    }
    return ab / std::sqrt(aa * bb);
  };
  // 4,000 pairs give a correlation to (1 - r^2) / 63 = 0.014, paired draws far better.
  const double stated = correlation({});
  // r = s + (1 - s) phi moves by (1 - s) 0.08 and by (1 - phi) 0.05: two standard errors each.
  CHECK(correlation({0.0, 0.0, 2.0, 0.0}) - stated == Approx(0.15).margin(0.03));
  CHECK(correlation({0.0, 0.0, 0.0, 2.0}) - stated == Approx(0.07).margin(0.03));
}

TEST_CASE("known days keep the sky that was stated, in whatever climate") {
  Plan stated = with_stated_places(plan_of(kKnown));
  // Known badly, so that its days move although known ones stand on both sides.
  for (MonthStatistics& month : stated.camps[1].place.months) month.k_mean.standard_error = 0.06;
  const PreparedPlan plan = prepare(stated);
  REQUIRE(plan.climate.places() == 2);
  for (const double errors : {-2.0, 2.0}) {
    CAPTURE(errors);
    const StayClimate off = plan.climate.off_by(everywhere(plan, {errors, errors, errors, errors}));
    const DrawnSky sky(plan, off, 9);
    BatchMean known, unknown, unknown_stated;
    for (std::uint32_t stay = 0; stay < 2000; ++stay) {
      const auto days = fill(plan, sky, stay);
      known(days[1].k);
      unknown(days[3].k);
      unknown_stated(fill(plan, DrawnSky(plan, 9), stay)[3].k);
    }
    CHECK(known.mean() == Approx(0.45).margin(0.005));
    CHECK(std::abs(unknown.mean() - unknown_stated.mean()) > 0.02);
  }
}

TEST_CASE("each place is off by its own errors, and camps at one place share them") {
  const PreparedPlan plan = prepare(with_stated_places(plan_of(kTwoCamps)));
  REQUIRE(plan.climate.places() == 2);
  const StayClimate stated = plan.climate.stated();
  std::vector<ClimateDeviates> errors(2);
  errors[1].k_mean = -1.0;
  const StayClimate off = plan.climate.off_by(errors);
  for (std::size_t i = 0; i < plan.segments.size(); ++i) {
    CAPTURE(i);
    if (plan.segments[i].camp == 0) {
      CHECK(off.segments[i].k_mean == stated.segments[i].k_mean);
    } else {
      CHECK(off.segments[i].k_mean < stated.segments[i].k_mean - 0.02);
    }
  }
  std::string same = kTwoCamps;
  same.replace(same.find("{ latitude = 38.6, longitude = -119.6 }"), 39, "\"crescent-city-ca\"");
  CHECK(prepared_of(same).climate.places() == 1);
}

}  // namespace dullspell::stay_climate_test
