#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

#include "tests/support/engine_balance.hpp"
#include "tests/support/engine_plan.hpp"
#include "weather/random_stream.hpp"

using namespace dullspell;

namespace {

/// 1,000 Wh that lose a tenth each way, nothing else.
Battery plain_battery() {
  Battery battery = lossless_battery(1000.0);
  battery.charge_efficiency = battery.discharge_efficiency = 0.9;
  return battery;
}

Inverter plain_inverter() {
  return {500.0, 10.0, 0.05, 0.1, {kWholeDay}};
}

HourNeeds needs(double dc_w, double panels_w = 0.0, double battery_c = 25.0) {
  HourNeeds out;
  out.dc_w = dc_w;
  out.panels_w = panels_w;
  out.battery_c = battery_c;
  return out;
}

HourFlow hour_of(const Battery& battery, const HourNeeds& n, double stored_wh) {
  return step_hour(battery, nullptr, n, {}, 0.0, stored_wh);
}

/// Uniform draws by number.
class Draws {
 public:
  explicit Draws(std::uint32_t stay) : stream_({77, stay, 0, DrawPurpose::test}) {}
  double between(double low, double high) {
    return low + (high - low) * (stream_() / 4294967296.0);
  }
  bool one_in(int n) { return stream_() % static_cast<std::uint32_t>(n) == 0; }

 private:
  RandomStream stream_;
};

}  // namespace

TEST_CASE("every watt-hour of an hour is accounted for, whatever the hour asks") {
  int flat = 0, short_of_it = 0, spilled = 0, charged = 0, cold = 0, held_back = 0;
  for (std::uint32_t i = 0; i < 50'000; ++i) {
    CAPTURE(i);
    Draws draw(i);
    Battery battery = lossless_battery(draw.between(100.0, 4000.0));
    battery.health = draw.between(0.5, 1.0);
    battery.usable_share = draw.between(0.4, 1.0);
    battery.charge_efficiency = draw.between(0.7, 1.0);
    battery.discharge_efficiency = draw.between(0.7, 1.0);
    if (draw.one_in(2)) {
      battery.charge_limit_w = draw.between(10.0, 2000.0);
      battery.taper_from = draw.between(0.3, 1.0);
    }
    if (draw.one_in(2)) battery.discharge_limit_w = draw.between(10.0, 2000.0);
    battery.self_discharge_per_month = draw.between(0.0, 0.3);
    Inverter inverter = plain_inverter();
    inverter.rated_w = draw.between(100.0, 2000.0);

    HourNeeds n = needs(draw.between(0.0, 400.0), draw.one_in(2) ? draw.between(0.0, 900.0) : 0.0,
                        draw.between(-25.0, 40.0));
    n.vehicle_w = draw.one_in(4) ? draw.between(0.0, 500.0) : 0.0;
    n.inverter_on = draw.one_in(3) ? 0.0 : draw.between(0.1, 1.0);
    if (n.inverter_on > 0.0) n.ac_w = draw.between(0.0, 2500.0);
    OutsidePower outside;
    double share = 0.0;
    if (draw.one_in(2)) {
      outside.charger_w = draw.between(50.0, 1500.0);
      outside.carries_dc = draw.one_in(3);
      if (!outside.carries_dc) {
        outside.ac_limit_w = draw.between(200.0, 3000.0);
        outside.charger_efficiency = draw.between(0.6, 1.0);
      }
      share = draw.one_in(3) ? 1.0 : draw.between(0.0, 1.0);
    }
    const double stored_wh =
        battery.usable_wh() * (draw.one_in(5) ? (draw.one_in(2) ? 0.0 : 1.0) : draw.between(0, 1));

    const HourFlow flow = step_hour(battery, &inverter, n, outside, share, stored_wh);
    check_balance(battery, n, outside, flow);
    REQUIRE(flow.to_battery_wh <= charge_acceptance_w(battery, stored_wh, n.battery_c) + 1e-9);
    REQUIRE(flow.from_battery_wh <= battery.discharge_limit_w + 1e-5);
    REQUIRE(flow.charger_wh <=
            share * (outside.charger_w + (outside.carries_dc ? n.dc_w + 10.0 : 0.0)) + 1e-9);
    flat += flow.flat;
    short_of_it += !flow.flat && flow.shortfall_wh > 1.0;
    spilled += flow.spilled_wh > 1.0;
    charged += flow.to_battery_wh > 1.0;
    cold += cut_off_wh(battery, n.battery_c) > 1.0;
    held_back += flow.charger_wh < share * outside.charger_w - 1.0;
  }
  // Every branch was taken often.
  for (const int taken : {flat, short_of_it, spilled, charged, cold, held_back}) {
    CHECK(taken > 2000);
  }
}

TEST_CASE(
    "a surplus charges with the loss of charging, a deficit drains with that of discharging") {
  const HourFlow sunny = hour_of(plain_battery(), needs(20.0, 120.0), 500.0);
  CHECK(sunny.to_battery_wh == Approx(100.0));
  CHECK(sunny.stored_after_wh == Approx(500.0 + 100.0 * 0.9));
  const HourFlow dull = hour_of(plain_battery(), needs(120.0, 30.0), 500.0);
  CHECK(dull.from_battery_wh == Approx(90.0));
  CHECK(dull.stored_after_wh == Approx(500.0 - 90.0 / 0.9));
}

TEST_CASE("what a full battery, its charge limit or its taper leaves over is spilled") {
  Battery battery = plain_battery();
  const HourFlow room = hour_of(battery, needs(0.0, 200.0), 910.0);
  CHECK(room.to_battery_wh == Approx(100.0));  // 90 Wh of room
  CHECK(room.spilled_wh == Approx(100.0));
  CHECK(room.stored_after_wh == Approx(1000.0));

  battery.charge_limit_w = 150.0;
  CHECK(hour_of(battery, needs(0.0, 200.0), 500.0).to_battery_wh == Approx(150.0));

  // From 80 % on the limit falls from 150 W to 0.05 of the capacity, 50 W, at full.
  battery.taper_from = 0.8;
  battery.taper_to_c_rate = 0.05;
  CHECK(charge_acceptance_w(battery, 800.0, 25.0) == Approx(150.0));
  CHECK(charge_acceptance_w(battery, 900.0, 25.0) == Approx(100.0));
  CHECK(charge_acceptance_w(battery, 1000.0, 25.0) == Approx(50.0));
  // The taper never lifts a limit.
  battery.taper_to_c_rate = 0.5;
  CHECK(charge_acceptance_w(battery, 900.0, 25.0) == Approx(150.0));
}

TEST_CASE("a battery without a limit tapers to its acceptance at full") {
  Battery battery = plain_battery();
  battery.taper_from = 0.8;
  battery.taper_to_c_rate = 0.05;
  CHECK(charge_acceptance_w(battery, 1000.0, 25.0) == Approx(50.0));
  CHECK(charge_acceptance_w(battery, 700.0, 25.0) == kNoLimit_w);
}

TEST_CASE("a battery below its least charging temperature takes nothing, and little just above") {
  const Battery battery = plain_battery();
  const HourFlow frozen = hour_of(battery, needs(10.0, 200.0, -0.1), 500.0);
  CHECK(frozen.to_battery_wh == 0.0);
  CHECK(frozen.spilled_wh == Approx(190.0));  // but the sun still serves the loads
  CHECK(frozen.served_dc_wh == Approx(10.0));
  CHECK(frozen.stored_after_wh == 500.0);

  CHECK(charge_acceptance_w(battery, 500.0, 0.0) == Approx(100.0));  // 0.1 of the capacity
  CHECK(charge_acceptance_w(battery, 500.0, 2.5) == Approx(150.0));
  CHECK(charge_acceptance_w(battery, 500.0, 4.999) == Approx(200.0).margin(0.1));
  CHECK(charge_acceptance_w(battery, 500.0, 5.0) == kNoLimit_w);

  Battery heated = battery;
  heated.charge_min_c = -20.0;
  CHECK(charge_acceptance_w(heated, 500.0, -19.0) == Approx(120.0));
}

TEST_CASE("an empty battery serves its loads pro rata and is flat") {
  Inverter inverter = plain_inverter();
  HourNeeds n = needs(60.0, 40.0);
  n.ac_w = 100.0;
  n.inverter_on = 1.0;
  // Draw 60 + 100 + loss (10 + 5 + 0.1 x 100^2 / 500 = 17) = 177 Wh; 40 + 45 Wh are there.
  const HourFlow flow = step_hour(plain_battery(), &inverter, n, {}, 0.0, 50.0);
  const double served = 85.0 / 177.0;
  CHECK(flow.flat);
  CHECK(flow.from_battery_wh == Approx(45.0));
  CHECK(flow.served_dc_wh == Approx(60.0 * served));
  CHECK(flow.served_inverted_wh == Approx(100.0 * served));
  CHECK(flow.inverter_loss_wh == Approx(17.0 * served));
  CHECK(flow.shortfall_wh == Approx(160.0 * (1.0 - served)));
  CHECK(flow.stored_after_wh == Approx(0.0).margin(1e-9));
}

TEST_CASE("the least stored energy is where an hour begins to do") {
  Inverter inverter = plain_inverter();
  int checked = 0, in_taper = 0;
  for (const double taper_from : {1.0, 0.8}) {
    for (const double panels_w : {0.0, 120.0, 300.0}) {
      for (const double ac_w : {0.0, 150.0, 400.0}) {
        for (const double battery_c : {20.0, 3.0, -8.0}) {
          for (const double share : {0.0, 0.4, 1.0}) {
            for (const double target_wh : {0.0, 120.0, 500.0, 850.0, 960.0}) {
              Battery battery = plain_battery();
              battery.taper_from = taper_from;
              battery.taper_to_c_rate = 0.05;
              battery.charge_limit_w = 250.0;
              battery.discharge_limit_w = 300.0;
              battery.self_discharge_per_month = 0.03;
              HourNeeds n = needs(30.0, panels_w);
              n.ac_w = ac_w;
              n.inverter_on = 1.0;
              n.battery_c = battery_c;
              const OutsidePower outside{200.0, 600.0, 0.9, false};
              const double least_wh =
                  least_stored_wh(battery, &inverter, n, outside, share, target_wh);
              const auto suffices = [&](double stored_wh) {
                const HourFlow flow = step_hour(battery, &inverter, n, outside, share, stored_wh);
                return !flow.flat && flow.stored_after_wh >= target_wh;
              };
              INFO(taper_from << " " << panels_w << " " << ac_w << " " << battery_c << " " << share
                              << " " << target_wh << " least " << least_wh);
              const bool tapers = least_wh > taper_from * battery.usable_wh();
              if (least_wh > battery.usable_wh()) {
                // Not even a full battery, at least not one that is fuller by what is left open.
                CHECK_FALSE(suffices(battery.usable_wh() - (tapers ? 0.1 : 1e-4)));
                continue;
              }
              CHECK(suffices(least_wh));
              if (least_wh > 1e-4) CHECK_FALSE(suffices(least_wh - (tapers ? 0.1 : 1e-4)));
              ++checked;
              in_taper += tapers;
            }
          }
        }
      }
    }
  }
  CHECK(checked > 300);
  CHECK(in_taper > 10);
}

TEST_CASE("a battery that just suffices is not flat") {
  const HourFlow flow = hour_of(plain_battery(), needs(90.0), 100.0);
  CHECK_FALSE(flow.flat);
  CHECK(flow.shortfall_wh == Approx(0.0).margin(1e-9));
  CHECK(hour_of(plain_battery(), needs(90.001), 100.0).flat);
}

TEST_CASE("cold raises the stored energy at which the battery cuts off") {
  // At -10 C three quarters of the capacity are to be had: 250 of 1,000 Wh stay inside.
  CHECK(cut_off_wh(plain_battery(), -10.0) == Approx(250.0));
  const HourFlow flow = hour_of(plain_battery(), needs(90.0, 0.0, -10.0), 300.0);
  CHECK(flow.flat);
  CHECK(flow.from_battery_wh == Approx(45.0));
  CHECK(flow.stored_after_wh == Approx(250.0));
  // Warm again, what stayed inside is back.
  CHECK_FALSE(hour_of(plain_battery(), needs(90.0), flow.stored_after_wh).flat);
  // A cell colder than its store allows keeps what it has.
  const HourFlow colder = hour_of(plain_battery(), needs(90.0, 0.0, -20.0), 300.0);
  CHECK(colder.from_battery_wh == 0.0);
  CHECK(colder.stored_after_wh == 300.0);
}

TEST_CASE("what the discharge limit holds back is shortfall, not flat") {
  Battery battery = plain_battery();
  battery.discharge_limit_w = 60.0;
  const HourFlow flow = hour_of(battery, needs(100.0), 1000.0);
  CHECK_FALSE(flow.flat);
  CHECK(flow.from_battery_wh == Approx(60.0));
  CHECK(flow.shortfall_wh == Approx(40.0));
  // With less stored than the limit would let through, it is flat after all.
  CHECK(hour_of(battery, needs(100.0), 50.0).flat);
}

TEST_CASE("what the inverter's rating leaves out is shortfall, not flat") {
  Inverter inverter = plain_inverter();
  HourNeeds n = needs(0.0);
  n.ac_w = 700.0;
  n.inverter_on = 1.0;
  const HourFlow flow = step_hour(plain_battery(), &inverter, n, {}, 0.0, 1000.0);
  CHECK_FALSE(flow.flat);
  CHECK(flow.served_inverted_wh == Approx(500.0));
  CHECK(flow.shortfall_wh == Approx(200.0));
  CHECK(flow.inverter_loss_wh == Approx(10.0 + 25.0 + 50.0));
}

TEST_CASE("a generator carries the alternating-current loads while it runs and charges besides") {
  Inverter inverter = plain_inverter();
  HourNeeds n = needs(30.0);
  n.ac_w = 200.0;
  n.inverter_on = 1.0;
  OutsidePower generator;
  generator.charger_w = 300.0;
  generator.ac_limit_w = 1000.0;
  generator.charger_efficiency = 0.8;
  const HourFlow half = step_hour(plain_battery(), &inverter, n, generator, 0.5, 500.0);
  CHECK(half.served_outside_wh == Approx(100.0));
  CHECK(half.served_inverted_wh == Approx(100.0));
  CHECK(half.charger_wh == Approx(150.0));
  // Loss at 200 W: 10 + 10 + 8, of which standby the whole hour. Net 150 - 30 - 100 - 19 = +1.
  CHECK(half.inverter_loss_wh == Approx(10.0 + 0.5 * 18.0));
  CHECK(half.to_battery_wh == Approx(1.0));

  // Rated 400 W: 200 W of loads leave 200 W for the charger, 160 W after its loss.
  generator.ac_limit_w = 400.0;
  CHECK(step_hour(plain_battery(), &inverter, n, generator, 1.0, 500.0).charger_wh ==
        Approx(160.0));
  // Rated 150 W: the loads get that, the rest is shortfall.
  generator.ac_limit_w = 150.0;
  const HourFlow small = step_hour(plain_battery(), &inverter, n, generator, 1.0, 500.0);
  CHECK(small.served_outside_wh == Approx(150.0));
  CHECK(small.charger_wh == Approx(0.0).margin(1e-9));
  CHECK(small.shortfall_wh == Approx(50.0));
}

TEST_CASE("the mains charger carries direct-current loads on top of its rating") {
  OutsidePower mains;
  mains.charger_w = 100.0;
  mains.carries_dc = true;
  const HourFlow flow = step_hour(plain_battery(), nullptr, needs(250.0), mains, 1.0, 500.0);
  CHECK(flow.charger_wh == Approx(350.0));
  CHECK(flow.stored_after_wh == Approx(590.0));
  // A full battery takes nothing; the mains then gives what the loads ask.
  const HourFlow full = step_hour(plain_battery(), nullptr, needs(250.0), mains, 1.0, 1000.0);
  CHECK(full.charger_wh == Approx(250.0));
  CHECK(full.spilled_wh == 0.0);
}

TEST_CASE("self-discharge takes its monthly share of what is stored, hour by hour") {
  Battery battery = plain_battery();
  battery.self_discharge_per_month = 0.073;
  const HourFlow flow = hour_of(battery, needs(90.0), 600.0);
  CHECK(flow.self_discharge_wh == Approx(500.0 * 0.073 / 730.0));
  CHECK(flow.stored_after_wh == Approx(500.0 - 0.05));
  CHECK(hour_of(battery, needs(0.0), 0.0).stored_after_wh == 0.0);
}

TEST_CASE("the share of an hour that reaches a target ends the hour at the target") {
  Inverter inverter = plain_inverter();
  OutsidePower generator;
  generator.charger_w = 400.0;
  generator.ac_limit_w = 900.0;
  generator.charger_efficiency = 0.85;
  int hit = 0, never = 0, not_enough = 0;
  for (std::uint32_t i = 0; i < 5000; ++i) {
    CAPTURE(i);
    Draws draw(100'000 + i);
    Battery battery = plain_battery();
    battery.charge_limit_w = draw.between(100.0, 600.0);
    HourNeeds n = needs(draw.between(0.0, 150.0), draw.between(0.0, 200.0));
    n.ac_w = draw.between(0.0, 300.0);
    n.inverter_on = 1.0;
    const double allowed = draw.between(0.1, 1.0), stored_wh = draw.between(450.0, 1000.0);
    const double target_wh = draw.between(0.0, 1100.0);
    const double share =
        share_to_reach(battery, &inverter, n, generator, allowed, stored_wh, target_wh);
    const double after =
        step_hour(battery, &inverter, n, generator, share, stored_wh).stored_after_wh;
    const double capped_wh = std::min(target_wh, battery.usable_wh());
    REQUIRE(share >= 0.0);
    REQUIRE(share <= allowed);
    if (share == 0.0) {
      CHECK(after >= capped_wh - 1e-5);
      ++never;
    } else if (share == allowed) {
      CHECK(after <= capped_wh + 1e-5);
      ++not_enough;
    } else {
      CHECK(after == Approx(capped_wh).margin(1e-5));
      ++hit;
    }
  }
  for (const int taken : {hit, never, not_enough}) CHECK(taken > 300);
}

TEST_CASE("a generator that could not help runs as long as it may") {
  OutsidePower generator;
  generator.charger_w = 400.0;
  // Too cold to charge and no loads: nothing reaches the target.
  CHECK(share_to_reach(plain_battery(), nullptr, needs(0.0, 0.0, -5.0), generator, 0.75, 100.0,
                       500.0) == 0.75);
}
