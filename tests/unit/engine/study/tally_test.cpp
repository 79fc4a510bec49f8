#include <string>

#include <catch2/catch.hpp>

#include "engine/study/tally.hpp"
#include "tests/support/engine_plan.hpp"

using namespace dullspell;

namespace {

/// Two days of the hours 6, 12 and 20 with these flat hours and charges.
TrackTrace trace_with(std::vector<std::uint8_t> flat, std::vector<double> charge) {
  TrackTrace trace;
  trace.flat = std::move(flat);
  trace.charge = std::move(charge);
  return trace;
}

PreparedPlan two_days() {
  return bare_plan(2, {6, 12, 20}, 1000.0);
}

}  // namespace

TEST_CASE("a histogram's quantile is linear within a bin and off by a bin at most") {
  Histogram h(0.5, 20);
  for (int i = 0; i < 100; ++i) h(i * 0.05);  // ten in each of the first ten bins
  CHECK(h.count() == 100);
  CHECK(h.quantile(0.5) == Approx(2.5));
  CHECK(h.quantile(0.05) == Approx(0.25));
  CHECK(h.quantile(0.9) == Approx(4.5));
  CHECK(h.quantile(1.0) == Approx(5.0));
}

TEST_CASE("values beyond a histogram's end count in its last bin") {
  Histogram h(1.0, 3);
  h(1e9);
  h(2.0);
  CHECK(h.counts().back() == 2);
}

TEST_CASE("zeros of a histogram can stand for exactly nothing") {
  Histogram h(1.0, 4);
  for (int i = 0; i < 6; ++i) h(0.0);
  for (int i = 0; i < 4; ++i) h(2.5);
  CHECK(h.quantile(0.5, true) == 0.0);
  CHECK(h.quantile(0.5) > 0.0);
  CHECK(h.quantile(0.9, true) == Approx(2.75));
}

TEST_CASE("a full battery has a bin of its own") {
  ChargeHistogram h;
  for (int i = 0; i < 90; ++i) h(1.0);
  for (int i = 0; i < 10; ++i) h(0.25);
  CHECK(h.count() == 100);
  CHECK(h.quantile(0.5) == 1.0);
  CHECK(h.quantile(0.05) == Approx(0.25).margin(0.004));
  ChargeHistogram empty;
  empty(0.0);
  CHECK(empty.quantile(0.5) <= 1.0 / 256.0);
}

TEST_CASE("charge quantiles are good to 0.004") {
  ChargeHistogram h;
  for (int i = 0; i < 1000; ++i) h(i / 1000.0);
  for (const double p : {0.05, 0.25, 0.5, 0.75, 0.95}) {
    CHECK(h.quantile(p) == Approx(p).margin(0.004));
  }
}

TEST_CASE("fixed sums are the same in any order") {
  FixedSum forwards, backwards, left, right;
  for (int i = 0; i < 1000; ++i) forwards += 0.1 * i;
  for (int i = 999; i >= 0; --i) backwards += 0.1 * i;
  for (int i = 0; i < 1000; ++i) (i % 3 ? left : right) += 0.1 * i;
  left += right;
  CHECK(forwards.value() == backwards.value());
  CHECK(forwards.value() == left.value());
  CHECK(forwards.value() == Approx(49950.0).margin(1000 * 0.5 / 1024));
}

TEST_CASE("flat hours are counted by stay, by day, by first hour and by clock") {
  const PreparedPlan plan = two_days();
  TrackTally tally(plan);
  tally.add(plan, trace_with({0, 0, 1, 1, 0, 1}, {.9, .5, .0, .0, .4, .0}));
  tally.add(plan, trace_with({0, 0, 0, 0, 0, 1}, {.9, .5, .3, .2, .4, .0}));
  tally.add(plan, trace_with({0, 0, 0, 0, 0, 0}, {1., 1., 1., 1., 1., 1.}));
  CHECK(tally.flat_stays == 2);
  CHECK(tally.flat_hours == 4);
  CHECK(tally.flat_on_day == std::vector<std::uint32_t>{1, 2});
  CHECK(tally.fails_on_day == std::vector<std::uint32_t>{1, 1});
  CHECK(tally.fails_at_hour == std::vector<std::uint32_t>{0, 0, 1, 0, 0, 1});
  CHECK(tally.flat_hour_of_day[6] == 1);
  CHECK(tally.flat_hour_of_day[12] == 0);
  CHECK(tally.flat_hour_of_day[20] == 3);
  for (const std::size_t hours : {0u, 1u, 3u}) CHECK(tally.flat_h.counts()[hours] == 1);
  // From noon to noon: the evening and the morning after it are one night.
  for (const std::size_t nights : {0u, 1u, 2u}) CHECK(tally.flat_nights.counts()[nights] == 1);
}

TEST_CASE("where hours flat are accepted a stay fails when they are over") {
  PreparedPlan plan = two_days();
  plan.accept_flat_h = 2;
  TrackTally tally(plan);
  tally.add(plan, trace_with({0, 0, 1, 1, 0, 1}, {.9, .5, .0, .0, .4, .0}));
  tally.add(plan, trace_with({0, 1, 1, 0, 0, 0}, {.9, .0, .0, .2, .4, .0}));
  CHECK(tally.flat_stays == 1);
  CHECK(tally.fails_on_day == std::vector<std::uint32_t>{0, 1});
  CHECK(tally.fails_at_hour == std::vector<std::uint32_t>{0, 0, 0, 0, 0, 1});
  CHECK(tally.flat_on_day == std::vector<std::uint32_t>{2, 1});
}

TEST_CASE("the morning low is the least charge before noon of each date") {
  const PreparedPlan plan = bare_plan(2, {0, 11, 12, 23}, 1000.0);
  TrackTally tally(plan);
  tally.add(plan, trace_with(std::vector<std::uint8_t>(8, 0), {.9, .5, .1, .2, .3, .6, .1, .1}));
  CHECK(tally.morning_low[0].quantile(0.5) == Approx(0.5).margin(0.004));
  CHECK(tally.morning_low[1].quantile(0.5) == Approx(0.3).margin(0.004));
  TrackTally afternoon_only(bare_plan(1, {15, 20}, 1000.0));
  afternoon_only.add(bare_plan(1, {15, 20}, 1000.0), trace_with({0, 0}, {.5, .5}));
  CHECK(afternoon_only.morning_low[0].count() == 0);
}

TEST_CASE("tallies add up to the tally of all their stays") {
  const PreparedPlan plan = two_days();
  TrackTally all(plan), some(plan), others(plan);
  for (int i = 0; i < 50; ++i) {
    TrackTrace trace = trace_with({0, 0, 0, 0, 0, 0}, {.9, .5, .3, .2, .4, .1});
    trace.flat[static_cast<std::size_t>(i % 6)] = 1;
    trace.shortfall_wh = 0.37 * i;
    trace.demand_wh = 3.3 * i;
    trace.spilled_wh = 0.1 * i;
    trace.given_up_wh = 0.7 * i;
    all.add(plan, trace);
    (i % 3 ? some : others).add(plan, trace);
  }
  others += some;
  CHECK(others.flat_stays == all.flat_stays);
  CHECK(others.flat_on_day == all.flat_on_day);
  CHECK(others.fails_on_day == all.fails_on_day);
  CHECK(others.fails_at_hour == all.fails_at_hour);
  CHECK(others.flat_hour_of_day == all.flat_hour_of_day);
  CHECK(others.shortfall_wh.value() == all.shortfall_wh.value());
  CHECK(others.demand_wh.value() == all.demand_wh.value());
  CHECK(others.spilled_wh.value() == all.spilled_wh.value());
  CHECK(others.given_up_wh.value() == all.given_up_wh.value());
  CHECK(others.flat_h.counts() == all.flat_h.counts());
  for (std::size_t h = 0; h < 6; ++h) {
    CHECK(others.charge[h].quantile(0.5) == all.charge[h].quantile(0.5));
  }
}
