#include <atomic>
#include <map>
#include <numeric>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "engine/study/climate_interval.hpp"
#include "engine/study/study.hpp"
#include "tests/support/engine_plan.hpp"
#include "weather/random_stream.hpp"

namespace dullspell::study_test {

namespace {

const std::string kPlan = R"(
arrive = 2027-10-12T14:00:00
[[camp]]
place = "port-angeles-wa"
nights = 3
canopy = 0.2
[battery]
capacity_wh = 1100
start_charge = 1.0
[[panels]]
rated_w = 200
[[load]]
name = "one"
watts = 25
[[load]]
name = "two"
watts = 40
hours_per_day = 3
varies = 0.5
[[load]]
name = "three"
watts = 30
hours_per_day = 4
between = ["08:00", "20:00"]
varies = 0.4
dull_day_factor = 1.5
optional_below = 0.25
[generator]
rated_w = 1000
charger_w = 400
allowed = [["17:00", "18:30"]]
)";

void check_same(const TrackTally& a, const TrackTally& b) {
  CHECK(a.flat_stays == b.flat_stays);
  CHECK(a.flat_on_day == b.flat_on_day);
  CHECK(a.fails_on_day == b.fails_on_day);
  CHECK(a.fails_at_hour == b.fails_at_hour);
  CHECK(a.flat_hour_of_day == b.flat_hour_of_day);
  CHECK(a.flat_hours == b.flat_hours);
  CHECK(a.flat_h.counts() == b.flat_h.counts());
  CHECK(a.flat_nights.counts() == b.flat_nights.counts());
  CHECK(a.flat_nights_sum == b.flat_nights_sum);
  CHECK(a.missing_wh.counts() == b.missing_wh.counts());
  CHECK(a.demand_wh.value() == b.demand_wh.value());
  CHECK(a.shortfall_wh.value() == b.shortfall_wh.value());
  CHECK(a.given_up_wh.value() == b.given_up_wh.value());
  CHECK(a.spilled_wh.value() == b.spilled_wh.value());
  CHECK(a.generator_h.counts() == b.generator_h.counts());
  CHECK(a.fuel_l.counts() == b.fuel_l.counts());
  CHECK(a.starts.counts() == b.starts.counts());
  CHECK(a.generator_h_sum.value() == b.generator_h_sum.value());
  CHECK(a.fuel_l_sum.value() == b.fuel_l_sum.value());
  for (const double p : {0.05, 0.5, 0.95}) {
    for (std::size_t h = 0; h < a.charge.size(); ++h) {
      CHECK(a.charge[h].quantile(p) == b.charge[h].quantile(p));
    }
    for (std::size_t d = 0; d < a.morning_low.size(); ++d) {
      CHECK(a.morning_low[d].quantile(p) == b.morning_low[d].quantile(p));
    }
  }
}

void check_same(const Tally& a, const Tally& b) {
  CHECK(a.stays == b.stays);
  check_same(a.home, b.home);
  check_same(a.along, b.along);
  CHECK(a.least_generator_h.counts() == b.least_generator_h.counts());
  CHECK(a.least_not_enough == b.least_not_enough);
  CHECK(a.panels_wh.value() == b.panels_wh.value());
}

Tally run(const PreparedPlan& plan, std::uint64_t first, std::uint64_t count, int threads) {
  return run_stays(plan, DrawnSky(plan, 7), 7, first, count, threads);
}

/// 100 W from 1,000 Wh: flat from 10:00 of the first date on.
PreparedPlan sure_plan() {
  std::vector<int> hours(24);
  std::iota(hours.begin(), hours.end(), 0);
  PreparedPlan plan = bare_plan(2, hours, 1000.0);
  for (const int hour : hours) set_load(plan, hour, 100.0);
  return plan;
}

/// Flat on each day with a given probability, days apart from each other: an empty battery, and
/// sun that suffices or does not.
PreparedPlan coin_plan() {
  PreparedPlan plan = bare_plan(1, {12}, 1000.0);
  plan.battery.start_charge = 0.0;
  set_panels(plan, 12, 100.0);
  set_load(plan, 12, 50.0);
  return plan;
}

ScriptedSky coin_sky(double p_dull) {
  return ScriptedSky([p_dull](std::uint32_t stay, std::span<SegmentSky> out) {
    RandomStream stream({5, stay, 0, DrawPurpose::test});
    out[0] = mild_day(stream() < p_dull * 4294967296.0 ? 0.0 : 1.0);
  });
}

}  // namespace

TEST_CASE("a study has the same bits with any number of threads") {
  const PreparedPlan plan = prepared_of(kPlan);
  const Tally one = run(plan, 0, 1500, 1);
  CHECK(one.home.flat_stays > 50);
  for (const int threads : {2, 3, 8}) {
    CAPTURE(threads);
    check_same(run(plan, 0, 1500, threads), one);
  }
}

TEST_CASE("a study in two parts is the study in one") {
  const PreparedPlan plan = prepared_of(kPlan);
  Tally parts = run(plan, 0, 777, 1);
  parts += run(plan, 777, 523, 1);
  check_same(parts, run(plan, 0, 1300, 1));
}

TEST_CASE("a stay under way since its arrival is the stay itself") {
  const PreparedPlan plan = prepared_of(kPlan);
  const PreparedPlan under_way = prepared_of("now = 2027-10-12T14:00:00" + kPlan);
  CHECK(under_way.first_day == 0);
  check_same(run(plan, 0, 1500, 2), run(under_way, 0, 1500, 2));
}

TEST_CASE("a stay under way is a stay of what remains of it, by the plan's own days") {
  std::string text = kPlan;
  text.replace(text.find("= 1100"), 6, "= 600");
  const PreparedPlan under_way = prepared_of("now = 2027-10-14T09:00:00" + text);
  text.replace(text.find("2027-10-12T14"), 13, "2027-10-14T09");
  text.replace(text.find("nights = 3"), 10, "nights = 1");
  const PreparedPlan fresh = prepared_of(text);
  const Tally remaining = run(under_way, 0, 3000, 2);
  CHECK(remaining.home.flat_stays > 10);
  check_same(remaining, run(fresh, 0, 3000, 2));

  StudyOptions options;
  options.stays = 500;
  const StudyResult result = run_study(under_way, options);
  REQUIRE(result.home.days.size() == 2);
  CHECK(result.home.days[0].day == 3);
  CHECK(iso_date(result.home.days[0].date) == "2027-10-14");
}

TEST_CASE("another seed gives other stays, the same seed the same") {
  const PreparedPlan plan = prepared_of(kPlan);
  const auto panels = [&](std::uint64_t seed) {
    StudyOptions options;
    options.stays = 200;
    options.seed = seed;
    options.threads = 1;
    return run_study(plan, options).panels_wh_per_day;
  };
  CHECK(panels(1) == panels(1));
  CHECK(panels(1) != panels(2));
}

TEST_CASE("a study stops when its intervals are as narrow as asked") {
  const PreparedPlan plan = coin_plan();
  for (const double p : {0.5, 0.05}) {
    for (const double precision : {0.02, 0.005, 0.002}) {
      CAPTURE(p, precision);
      StudyOptions options;
      options.precision = precision;
      options.threads = 1;
      const StudyResult result = run_study(plan, coin_sky(p), options);
      CHECK(result.precision_reached);
      CHECK(result.home.flat.interval.half_width() <= precision);
      CHECK(result.home.days[0].flat_on_day.interval.half_width() <= precision);
      CHECK(result.home.flat.trials == result.stays);
      // And does not run on for long: the first look is at 8,192 stays, then in steps of 4,096.
      const double needed = 1.96 * 1.96 * p * (1.0 - p) / (precision * precision);
      CHECK(static_cast<double>(result.stays) <= 8192.0 + 4096.0 + 1.15 * needed);
      // It is the study of that many stays, nothing else.
      StudyOptions fixed;
      fixed.stays = result.stays;
      fixed.threads = 1;
      CHECK(run_study(plan, coin_sky(p), fixed).home.flat.count == result.home.flat.count);
    }
  }
}

TEST_CASE("a sure failure is told with its day, its hour and all its hours") {
  StudyOptions options;
  options.stays = 300;
  options.threads = 1;
  const StudyResult result = run_study(sure_plan(), steady_sky(mild_day(0.0)), options);
  CHECK(result.stays == 300);
  CHECK(result.home.flat.p == 1.0);
  REQUIRE(result.home.usual_failure);
  CHECK(result.home.usual_failure->day == 0);
  CHECK(result.home.usual_failure->hour_of_day == 10);
  CHECK(result.home.usual_failure->day_share == 1.0);
  CHECK(result.home.usual_failure->flat_h == 38.0);
  CHECK(result.home.flat_h.p50 == 38.0);
  CHECK(result.home.flat_h.mean == 38.0);
  CHECK(result.home.flat_nights.p99 == 3.0);  // the first begins before the first noon
  CHECK(result.home.missing_wh.mean == Approx(3800.0));
  CHECK(result.home.missing_wh.p50 == Approx(3800.0).margin(2.0));
  CHECK(result.home.flat_hours_share == Approx(38.0 / 48.0));
  CHECK(result.home.shortfall_wh == Approx(3800.0));
  CHECK(result.home.demand_wh == Approx(4800.0));
  CHECK(result.home.shortfall_share == Approx(3800.0 / 4800.0));
  CHECK(result.home.flat_hour_of_day[5] == Approx(1.0 / 38.0));
  CHECK(result.home.flat_hour_of_day[15] == Approx(2.0 / 38.0));
  REQUIRE(result.home.days[1].morning_low);
  CHECK(result.home.days[1].morning_low->p50 <= 1.0 / 256.0);
  CHECK_FALSE(result.generator);
}

TEST_CASE("a stay that never fails has no usual failure") {
  PreparedPlan plan = sure_plan();
  plan.battery.capacity_wh = 10'000.0;
  StudyOptions options;
  options.stays = 300;
  options.threads = 1;
  const StudyResult result = run_study(plan, steady_sky(mild_day(0.0)), options);
  CHECK(result.home.flat.p == 0.0);
  CHECK_FALSE(result.home.usual_failure);
  CHECK(result.home.flat_hours_share == 0.0);
  CHECK(result.home.shortfall_share == 0.0);
}

TEST_CASE("the risk by a day grows to that of the stay and bounds that on each day") {
  StudyOptions options;
  options.stays = 3000;
  options.threads = 1;
  const PreparedPlan plan = prepared_of(kPlan);
  const StudyResult result = run_study(plan, options);
  REQUIRE(result.generator);
  for (const TrackRisk* risk : {&result.home, &result.generator->risk}) {
    std::uint64_t last = 0;
    for (const DayRisk& day : risk->days) {
      CHECK(day.flat_by_day.count >= last);
      CHECK(day.flat_on_day.count <= day.flat_by_day.count);
      last = day.flat_by_day.count;
    }
    CHECK(last == risk->flat.count);
    CHECK(risk->days.size() == 4);
    CHECK(risk->hours.size() == plan.hours.size());
    for (const HourCharge& hour : risk->hours) {
      CHECK(hour.charge.p05 <= hour.charge.p25);
      CHECK(hour.charge.p25 <= hour.charge.p50);
      CHECK(hour.charge.p50 <= hour.charge.p75);
      CHECK(hour.charge.p75 <= hour.charge.p95);
    }
    const auto& by_clock = risk->flat_hour_of_day;
    CHECK(std::accumulate(by_clock.begin(), by_clock.end(), 0.0) == Approx(1.0));
  }
  CHECK(result.generator->risk.flat.count < result.home.flat.count);
  const auto& shares = result.generator->hours_histogram;
  CHECK(std::accumulate(shares.begin(), shares.end(), 0.0) == Approx(1.0));
  CHECK(result.generator->not_enough.count <= result.generator->risk.flat.count);
}

TEST_CASE("generator hours of a sure stay are their own mean and quantiles") {
  PreparedPlan plan = sure_plan();
  for (int hour = 0; hour < 24; ++hour) set_load(plan, hour, 20.0);
  Generator generator;
  generator.rated_w = 1000.0;
  generator.charger_w = 400.0;
  generator.charger_efficiency = 1.0;
  generator.min_run_h = 0.0;
  generator.fuel_l_per_h_idle = 0.5;
  generator.fuel_l_per_kwh = 0.25;
  plan.generator = generator;
  for (HourSlot& slot : plan.hours) {
    if (slot.hour_of_day != 18) continue;
    allow_generator(slot, 1.0);
    slot.start_below_wh = slot.stop_at_wh = slot.day == 0 ? 720.0 : 700.0;
  }
  // 1,000 - 18 x 20 = 640: (80 + 20) / 400 h. From 720 Wh, 260 are left 23 hours later: a whole
  // hour.
  StudyOptions options;
  options.stays = 256;
  options.threads = 1;
  const StudyResult result = run_study(plan, steady_sky(mild_day(0.0)), options);
  REQUIRE(result.generator);
  const double litres = 1.25 * 0.5 + 0.5 * 0.25;
  CHECK(result.generator->hours.mean == Approx(1.25).margin(1e-3));
  CHECK(result.generator->hours.p50 == Approx(1.25).margin(1.0 / 16.0));
  CHECK(result.generator->hours.p99 == Approx(1.25).margin(1.0 / 16.0));
  CHECK(result.generator->fuel_l.mean == Approx(litres).margin(1e-3));
  CHECK(result.generator->fuel_l.p90 == Approx(litres).margin(1.0 / 32.0));
  CHECK(result.generator->starts.mean == 2.0);
  CHECK(result.generator->starts.p50 == 2.0);
  CHECK(result.generator->hours_histogram == std::vector<double>{0.0, 0.0, 1.0});
  REQUIRE(result.generator->least_hours);
  CHECK(result.generator->least_hours->mean == 0.0);
}

TEST_CASE("progress comes to all stays of the study") {
  const PreparedPlan plan = prepared_of(kPlan);
  StudyOptions options;
  options.stays = 4'000;
  options.threads = 4;
  std::map<std::string, WorkDone> last;
  std::atomic<bool> telling = false, together = false, backwards = false;
  const StudyResult told = run_study(plan, options, [&](const WorkDone& work) {
    if (telling.exchange(true)) together = true;
    WorkDone& before = last[std::string(work.what)];
    if (work.done < before.done) backwards = true;
    before = work;
    telling = false;
  });
  CHECK_FALSE(together);
  CHECK_FALSE(backwards);
  CHECK(last.size() == 2);
  CHECK(last["stays"].done == 4'000);
  CHECK(last["stays"].planned == 4'000);
  CHECK(told.home.flat.count > 0);
  CHECK(last["stays"].flat_stays == told.home.flat.count);
  const WorkDone& climates = last["stays under other climates"];
  CHECK(climates.planned == (1 + kAlternativeClimates) * climate_stays(4'000));
  CHECK(climates.done == climates.planned);
  CHECK_FALSE(climates.flat_stays);
  CHECK(run_study(plan, options).home.flat.count == told.home.flat.count);
}

TEST_CASE("progress goes on over the batches of a precision") {
  const PreparedPlan plan = coin_plan();
  StudyOptions options;
  options.precision = 0.004;
  options.threads = 2;
  WorkDone last;
  bool backwards = false;
  const StudyResult result = run_study(plan, coin_sky(0.3), options, [&](const WorkDone& work) {
    backwards |= work.done < last.done || *work.flat_stays < last.flat_stays.value_or(0);
    last = work;
  });
  CHECK_FALSE(backwards);
  CHECK(result.stays > 8'192);
  CHECK(last.done == result.stays);
  CHECK(last.planned == result.stays);
  CHECK(last.flat_stays == result.home.flat.count);
}

TEST_CASE("other kit sees the same weather") {
  std::string other = kPlan;
  other.replace(other.find("rated_w = 200"), 13, "rated_w = 350");
  const PreparedPlan plan = prepared_of(kPlan), bigger = prepared_of(other);
  std::vector<SegmentSky> a(plan.segments.size()), b(plan.segments.size());
  for (std::uint32_t stay = 0; stay < 50; ++stay) {
    DrawnSky(plan, 3).fill(stay, a);
    DrawnSky(bigger, 3).fill(stay, b);
    for (std::size_t i = 0; i < a.size(); ++i) {
      CHECK(a[i].k == b[i].k);
      CHECK(a[i].temp_mean_c == b[i].temp_mean_c);
      CHECK(a[i].temp_range_c == b[i].temp_range_c);
    }
  }
}

TEST_CASE("taking a varying load away leaves the other loads' days alone") {
  const std::string head = R"(
arrive = 2027-10-12T00:00:00
[[camp]]
place = "bishop-ca"
nights = 3
[battery]
capacity_wh = 100000
)";
  const auto load = [](const char* name, int hour) {
    return "[[load]]\nname = \"" + std::string(name) +
           "\"\nwatts = 100\nhours_per_day = 0.5\nvaries = 0.4\nbetween = [\"" +
           (hour < 10 ? "0" : "") + std::to_string(hour) + ":00\", \"" +
           (hour + 2 < 10 ? "0" : "") + std::to_string(hour + 2) + ":00\"]\n";
  };
  const std::string a = load("a", 6), b = load("b", 12), c = load("c", 18);
  const PreparedPlan all = prepared_of(head + a + b + c);
  const auto hours_of = [](const PreparedPlan& plan) {
    return WatchedStay(plan, steady_sky({0.6, 20.0, 0.0}), 4).hours.home();
  };
  const auto expected = hours_of(all);
  const auto check = [&](const std::string& loads, std::vector<int> clock_hours) {
    const auto found = hours_of(prepared_of(head + loads));
    for (std::size_t day = 0; day < 3; ++day) {
      for (const int hour : clock_hours) {
        CAPTURE(day, hour);
        const std::size_t h = 24 * day + static_cast<std::size_t>(hour);
        CHECK(found[h].needs.dc_w == expected[h].needs.dc_w);
      }
    }
  };
  check(a + b, {6, 12});
  check(a + c, {6, 18});
  check(b + c, {12, 18});
}

}  // namespace dullspell::study_test
