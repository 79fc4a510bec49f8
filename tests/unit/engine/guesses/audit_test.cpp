#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

#include "engine/guesses/audit.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/study/study.hpp"
#include "tests/support/engine_plan.hpp"

namespace dullspell::audit_test {

namespace {

Plan trailer(const std::string& more) {
  const Plan plan = plan_of(R"(
arrive = 2027-10-11T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 4
canopy = 0.4
[battery]
capacity_wh = 2000
[inverter]
rated_w = 1000
standby_w = 20
[[panels]]
rated_w = 400
[[load]]
name = "router"
watts = 15
side = "ac"
[[load]]
name = "screen"
watts = 60
side = "ac"
between = ["18:00", "22:00"]
[fridge]
running_w = 50
)" + more);
  return listed_plan(plan);
}

const char* kReadings = R"(
[[reading]]
charge_from = 0.9
charge_to = 0.6
from = 2027-10-01T22:00:00
to = 2027-10-02T06:00:00
[[reading]]
draw_w = 75
at = 2027-10-01T20:00:00
on = ["screen"]
[[reading]]
draw_w = 35
at = 2027-10-01T23:00:00
on = []
counts = "battery"
[[reading]]
panels_w = 200
at = 2027-10-02T12:30:00
camp = "open"
sky = "clear"
[[reading]]
panels_w = 100
at = 2027-10-02T12:45:00
sky = "clear"
[[reading]]
used_wh = 500
from = 2027-10-02T06:00:00
to = 2027-10-03T06:00:00
off = ["screen"]
[[reading]]
draw_w = 15
at = 2027-10-02T23:00:00
on = []
[[reading]]
from_panels_wh = 900
from = 2027-10-02T06:00:00
to = 2027-10-02T20:00:00
camp = "open"
sky = "clear"
)";

// With readings as the display would show them were the plan right.
Plan well_read() {
  Plan plan = trailer(kReadings);
  for (Reading& reading : plan.readings) {
    reading.shown = ReadingModel(plan, reading).shown(plan);
  }
  return plan;
}

std::optional<Slip> slip_found(const Plan& plan, std::size_t reading) {
  const Audit audit = audit_of(plan, posterior_of(plan));
  const auto found = std::find_if(audit.misfits.begin(), audit.misfits.end(),
                                  [=](const Misfit& m) { return m.reading == reading; });
  return found == audit.misfits.end() ? std::nullopt : found->slip;
}

}  // namespace

TEST_CASE("readings that fit are left alone") {
  const Plan plan = well_read();
  CHECK(audit_of(plan, posterior_of(plan)).misfits.empty());
}

TEST_CASE("slips of the pen are found and named") {
  Plan plan = well_read();
  std::swap(plan.readings[0].charge_from, plan.readings[0].shown);
  CHECK(slip_found(plan, 0) == Slip::ends_swapped);

  // The display counts what leaves the battery, and the reading says that it counts the loads.
  plan = well_read();
  Reading outlet = plan.readings[6];
  outlet.counted_at = CountedAt::battery;
  plan.readings[6].shown = ReadingModel(plan, outlet).shown(plan);
  CHECK(slip_found(plan, 6) == Slip::other_side_of_inverter);

  plan = well_read();
  plan.readings[5].shown /= 1000.0;
  CHECK(slip_found(plan, 5) == Slip::kilowatt_hours);

  plan = well_read();
  plan.readings[4].shown = plan.readings[3].shown;
  plan.readings[3].shown = ReadingModel(plan, plan.readings[3]).shown(plan);
  CHECK(slip_found(plan, 4) == Slip::other_shade);
}

TEST_CASE("of two slips at once each is named, and no good reading with them", "[long]") {
  Plan plan = well_read();
  std::swap(plan.readings[0].charge_from, plan.readings[0].shown);
  plan.readings[5].shown /= 1000.0;
  const Audit audit = audit_of(plan, posterior_of(plan));
  REQUIRE(audit.misfits.size() == 2);
  for (const Misfit& misfit : audit.misfits) {
    CHECK((misfit.reading == 0 || misfit.reading == 5));
    CHECK(misfit.slip == (misfit.reading == 0 ? Slip::ends_swapped : Slip::kilowatt_hours));
  }
}

TEST_CASE("a gross reading does not fit, however far the figures would bend to it", "[long]") {
  Plan plan = well_read();
  for (const double times : {2.5, 4.0, 8.0}) {
    CAPTURE(times);
    Plan read = plan;
    read.readings[6].shown *= times;
    const Audit audit = audit_of(read, posterior_of(read));
    REQUIRE(!audit.misfits.empty());
    CHECK(std::any_of(audit.misfits.begin(), audit.misfits.end(),
                      [](const Misfit& misfit) { return misfit.reading == 6; }));
  }
}

TEST_CASE("a list that is half again too high gives another verdict, three readings put it right") {
  // The kit as it is lasts; its owner lists everything half again.
  const Plan truth = with_battery_wh(trailer(""), 5200.0);
  const Plan high = [&] {
    Plan plan = truth;
    for (Load& load : plan.loads) load.watts *= 1.5;
    plan.fridge->running_w *= 1.5;
    plan.inverter->standby_w *= 1.5;
    return plan;
  }();
  Plan read = high;
  for (Reading reading : trailer(kReadings).readings) {
    if (reading.kind == ReadingKind::panels_w || reading.kind == ReadingKind::panels_wh) continue;
    if (read.readings.size() == 3) break;
    reading.shown = ReadingModel(truth, reading).shown(truth);
    read.readings.push_back(reading);
  }
  const auto flat = [](const Plan& plan) {
    StudyOptions options;
    options.stays = 4000;
    return run_study(without_generator(prepare_stay(plan)), options).home.flat.p;
  };
  const double by_truth = flat(truth), by_list = flat(high),
               by_display = flat(corrected(read, posterior_of(read)));
  CAPTURE(by_truth, by_list, by_display);
  CHECK(by_list > by_truth + 0.3);
  CHECK(std::abs(by_display - by_truth) < 0.25 * (by_list - by_truth));
}

TEST_CASE("the balance's doubt narrows with readings, and the next ones narrow it further") {
  const Plan plan = well_read();
  const Audit audit = audit_of(plan, posterior_of(plan));
  CHECK(audit.corrected.spread_wh < 0.7 * audit.listed.spread_wh);
  CHECK(audit.corrected.left_wh() == Approx(audit.listed.left_wh()).margin(1.0));

  const Plan bare = trailer("");
  const Audit before = audit_of(bare, posterior_of(bare));
  CHECK(before.corrected.spread_wh == Approx(before.listed.spread_wh));
  REQUIRE(before.next.size() >= 3);
  double left = 1.0;
  for (const ReadingToTake& next : before.next) {
    CHECK(next.left < left);
    left = next.left;
  }
  CHECK(left < 0.6);
}

TEST_CASE("what is said to narrow the doubt does so once it is read") {
  Plan plan = trailer("");
  const Audit before = audit_of(plan, posterior_of(plan));
  REQUIRE(!before.next.empty());
  Reading reading = before.next[0].reading;
  reading.shown = ReadingModel(plan, reading).shown(plan);
  plan.readings = {reading};
  const Audit after = audit_of(plan, posterior_of(plan));
  CHECK(after.corrected.spread_wh / after.listed.spread_wh ==
        Approx(before.next[0].left).margin(0.03));
}

}  // namespace dullspell::audit_test
