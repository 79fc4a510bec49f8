#include <vector>

#include <catch2/catch.hpp>

#include "engine/stay/generator_targets.hpp"
#include "tests/support/engine_plan.hpp"

using namespace dullspell;

// Targets worked out by hand: 50 W day and night, 200 W of sun from 11:00 to 15:00 on every day.

namespace {

constexpr double kLoad_w = 50.0;

std::vector<int> whole_days() {
  std::vector<int> hours;
  for (int h = 0; h < 24; ++h) hours.push_back(h);
  return hours;
}

PreparedPlan plan_with(const std::vector<int>& allowed, bool sun = true) {
  PreparedPlan plan = bare_plan(3, whole_days(), 5000.0);
  plan.battery.discharge_efficiency = 0.9;
  plan.generator = Generator{};
  plan.generator->night_margin = 0.25;
  std::array<double, 9> always_half{};
  always_half.fill(0.5);
  for (Segment& segment : plan.segments) {
    segment.k_of_chi = ClearnessTable(QuantileClearness(always_half));
    segment.temp_mean_c = 25.0;
  }
  for (int hour = 0; hour < 24; ++hour) set_load(plan, hour, kLoad_w);
  if (sun) {
    for (int hour = 11; hour < 15; ++hour) set_panels(plan, hour, 400.0);
  }
  for (HourSlot& slot : plan.hours) {
    for (const int hour : allowed) {
      if (slot.hour_of_day == hour) allow_generator(slot, 1.0);
    }
  }
  return plan;
}

void set_targets(PreparedPlan& plan) {
  const std::vector<double> targets_wh = generator_targets_wh(plan);
  for (std::size_t h = 0; h < targets_wh.size(); ++h) plan.hours[h].target_wh = targets_wh[h];
}

double target(const PreparedPlan& plan, int day, int hour) {
  return plan.hours[static_cast<std::size_t>(24 * day + hour)].target_wh;
}

}  // namespace

TEST_CASE("the evening's target is the coming night with its margin and the rest of the window") {
  PreparedPlan plan = plan_with({17, 18, 19});
  set_targets(plan);
  // From 20:00 to 11:00 are 15 hours.
  const double night_wh = 1.25 * 15.0 * kLoad_w;
  CHECK(target(plan, 0, 19) == Approx(night_wh / 0.9));
  CHECK(target(plan, 0, 18) == Approx((night_wh + kLoad_w) / 0.9));
  CHECK(target(plan, 0, 17) == Approx((night_wh + 2.0 * kLoad_w) / 0.9));
  CHECK(target(plan, 1, 19) == Approx(night_wh / 0.9));
  // The last evening needs to last to the end of the stay only.
  CHECK(target(plan, 2, 19) == Approx(1.25 * 4.0 * kLoad_w / 0.9));
  for (const int hour : {0, 10, 16, 20}) CHECK(target(plan, 1, hour) < 0.0);
}

TEST_CASE("a window before the last of the day must last to the next without sun or margin") {
  PreparedPlan plan = plan_with({8, 9, 17, 18});
  set_targets(plan);
  CHECK(target(plan, 1, 9) == Approx(7.0 * kLoad_w / 0.9));
  CHECK(target(plan, 1, 8) == Approx(8.0 * kLoad_w / 0.9));
  CHECK(target(plan, 1, 18) == Approx(1.25 * 16.0 * kLoad_w / 0.9));
}

TEST_CASE("while the sun carries the loads after the window the night has not begun") {
  PreparedPlan plan = plan_with({12, 13});
  set_targets(plan);
  // From 15:00 to 11:00 are 20 hours; the sun of 13:00 brings 150 W more than the loads take.
  const double night_wh = 1.25 * 20.0 * kLoad_w;
  CHECK(target(plan, 0, 13) == Approx(night_wh / 0.9));
  CHECK(target(plan, 0, 12) == Approx((night_wh - 150.0) / 0.9));
}

TEST_CASE("the night ends with the same window a day later if the sun comes after that") {
  PreparedPlan plan = plan_with({9, 10});
  set_targets(plan);
  CHECK(target(plan, 0, 10) == Approx(1.25 * 18.0 * kLoad_w / 0.9));  // 15:00 to 09:00
  CHECK(target(plan, 0, 9) == Approx((1.25 * 18.0 * kLoad_w + kLoad_w) / 0.9));
}

TEST_CASE("without sun the night lasts to the same window a day later") {
  PreparedPlan plan = plan_with({17, 18, 19}, false);
  set_targets(plan);
  CHECK(target(plan, 0, 19) == Approx(1.25 * 21.0 * kLoad_w / 0.9));
}

TEST_CASE("no target exceeds a full battery") {
  PreparedPlan plan = plan_with({17, 18, 19});
  plan.battery.capacity_wh = 800.0;
  set_targets(plan);
  for (const int hour : {17, 18, 19}) CHECK(target(plan, 0, hour) == 800.0);
}

TEST_CASE("what the cold withholds is added to the target") {
  PreparedPlan plan = plan_with({17, 18, 19});
  plan.battery.where = BatteryWhere::outside;
  for (Segment& segment : plan.segments) segment.temp_mean_c = -10.0;
  set_targets(plan);
  CHECK(target(plan, 0, 19) == Approx(0.25 * 5000.0 + 1.25 * 15.0 * kLoad_w / 0.9));
}

TEST_CASE("what the mains or the vehicle will carry is no part of the night's need") {
  PreparedPlan plan = plan_with({18});
  set_targets(plan);
  const double whole_night = target(plan, 0, 18);
  // Arrival on the mains at 22:00.
  for (HourSlot& slot : plan.hours) {
    if (slot.day == 0 && slot.hour_of_day < 22) continue;
    slot.source = Source::mains;
    slot.source_share = 1.0;
  }
  set_targets(plan);
  // Three hours at 1.25 times the load, through the discharge's loss.
  CHECK(target(plan, 0, 18) == Approx(3.0 * kLoad_w * 1.25 / 0.9));
  CHECK(target(plan, 0, 18) < whole_night);

  PreparedPlan driven = plan_with({18});
  for (HourSlot& slot : driven.hours) {
    if (slot.day == 0 && slot.hour_of_day >= 19) slot.vehicle_w = kLoad_w;
    if (slot.day == 1 && slot.hour_of_day < 11) slot.vehicle_w = 0.5 * kLoad_w;
  }
  set_targets(driven);
  CHECK(target(driven, 0, 18) < 0.6 * whole_night);
}
