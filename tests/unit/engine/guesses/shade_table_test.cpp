#include <algorithm>

#include <catch2/catch.hpp>

#include "engine/guesses/reading_model.hpp"
#include "engine/guesses/seen_canopy.hpp"
#include "engine/guesses/shade_table.hpp"
#include "tests/support/engine_plan.hpp"

using namespace dullspell;

namespace {

// Two camps, the second an hour to the east by its clocks, with all that bends the sun's curve:
// a tilt, a limit, a skyline. `camp` is more of the first.
Plan two_camps(const std::vector<std::string>& settings = {}) {
  return plan_of(R"(
arrive = 2027-10-08T16:00:00
leave = "10:00"
[[camp]]
place = "crescent-city-ca"
nights = 4
canopy = 0.4
skyline = [{ from_deg = 60, to_deg = 200, height_deg = 20 }]
[[camp]]
place = "moab-ut"
nights = 3
drive_in_h = 5
[battery]
capacity_wh = 1200
[[panels]]
rated_w = 200
mount = { tilt_deg = 30, azimuth_deg = 180 }
controller_limit_w = 120
[[panels]]
rated_w = 100
[[load]]
name = "fridge and standby"
watts = 22
)",
                 settings);
}

ShadeTable first_camp(const Plan& plan) {
  return shade_table(plan, 0, middle_date(plan, 0));
}

Reading moved_to_the_open(Reading reading) {
  reading.in_the_open = true;
  return reading;
}

}  // namespace

TEST_CASE("a camp's table is of the date in the middle of its nights") {
  const Plan plan = two_camps();
  CHECK(iso_date(middle_date(plan, 0)) == "2027-10-10");
  CHECK(iso_date(middle_date(plan, 1)) == "2027-10-13");
  CHECK(middle_date(two_camps({"camp[1].nights=1"}), 0) == plan.arrive);
}

TEST_CASE("shade takes from every hour, and the hours add up to the day") {
  const ShadeTable shade = first_camp(two_camps());
  CHECK(shade.hours == std::vector<int>{7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18});
  for (const ShadedDay& day : shade.days) {
    INFO(to_string(day.sky));
    double here_wh = 0.0, open_wh = 0.0;
    for (std::size_t h = 0; h < 24; ++h) {
      const bool lit = std::find(shade.hours.begin(), shade.hours.end(), static_cast<int>(h)) !=
                       shade.hours.end();
      CAPTURE(h);
      CHECK((day.open.watts[h] > 0.0) == lit);
      CHECK(day.here.watts[h] <= day.open.watts[h]);
      here_wh += day.here.watts[h];
      open_wh += day.open.watts[h];
    }
    CHECK(day.here.energy_wh() == Approx(here_wh));
    CHECK(day.taken_wh() == Approx(open_wh - here_wh));
    CHECK(day.taken_share() == Approx(1.0 - here_wh / open_wh));
    CHECK(day.taken_share() > 0.4);
  }
  CHECK(shade.day(SkyWord::clear).open.energy_wh() > shade.day(SkyWord::mixed).open.energy_wh());
  CHECK(shade.day(SkyWord::overcast).open.energy_wh() > shade.day(SkyWord::rain).open.energy_wh());
}

TEST_CASE("a table shows what an audit expects of readings, watts and energies") {
  const Plan plan = two_camps();
  for (const std::size_t camp : {std::size_t{0}, std::size_t{1}}) {
    const ShadeTable shade = shade_table(plan, camp, middle_date(plan, camp));
    for (const ShadedDay& day : shade.days) {
      for (const int hour : shade.hours) {
        const Reading glance = panel_glance(camp, {shade.date, 60 * hour + 30}, day.sky, 0.0);
        const auto h = static_cast<std::size_t>(hour);
        CAPTURE(camp, to_string(day.sky), hour);
        CHECK(ReadingModel(plan, glance).shown(plan) == Approx(day.here.watts[h]).epsilon(1e-12));
        CHECK(ReadingModel(plan, moved_to_the_open(glance)).shown(plan) ==
              Approx(day.open.watts[h]).epsilon(1e-12));
      }
      Reading whole = panel_glance(camp, {shade.date, 0}, day.sky, 0.0);
      whole.kind = ReadingKind::panels_wh;
      whole.to.minute_of_day = 1439;  // a minute of the night is left out
      CHECK(ReadingModel(plan, whole).shown(plan) == Approx(day.here.energy_wh()).epsilon(1e-12));
    }
  }
}

TEST_CASE("a table shows the hours of the stay itself") {
  const Plan plan = two_camps();
  const ShadeTable shade = first_camp(plan);
  const PreparedPlan prepared = prepare_stay(plan);
  const ExpectedStay expected(prepared);
  int compared = 0;
  for (std::size_t i = 0; i < prepared.hours.size(); ++i) {
    const HourSlot& slot = prepared.hours[i];
    if (prepared.dates[slot.day] != shade.date) continue;
    for (const ShadedDay& day : shade.days) {
      CHECK(expected.at(i, day.k).panels_w ==
            Approx(day.here.watts[static_cast<std::size_t>(slot.hour_of_day)]).epsilon(1e-12));
      ++compared;
    }
  }
  CHECK(compared == 4 * 24);
}

TEST_CASE("what a canopy leaves falls with it, and the plan's own row is the camp") {
  const Plan plan = two_camps({"camp[1].canopy=0.43"});
  const ShadeTable shade = first_camp(plan);
  REQUIRE(shade.by_canopy.size() == 11);
  const auto best = static_cast<std::size_t>(shade.best_hour);
  for (const SkyWord sky : kSkyWords) {
    const auto s = static_cast<std::size_t>(sky);
    for (std::size_t i = 1; i < shade.by_canopy.size(); ++i) {
      CHECK(shade.by_canopy[i].canopy > shade.by_canopy[i - 1].canopy);
      CHECK(shade.by_canopy[i].watts[s] < shade.by_canopy[i - 1].watts[s]);
    }
    CHECK(shade.by_canopy[5].canopy == 0.43);
    CHECK(shade.by_canopy[5].watts[s] == Approx(shade.day(sky).here.watts[best]));
    CHECK(shade.doubt_w[s] > 0.0);
  }
  // Without a skyline no canopy is the open.
  const ShadeTable moab = shade_table(plan, 1, middle_date(plan, 1));
  REQUIRE(moab.by_canopy.size() == 10);
  const auto noon = static_cast<std::size_t>(moab.best_hour);
  CHECK(moab.by_canopy.front().watts[0] == Approx(moab.days[0].open.watts[noon]));
  CHECK(moab.days[0].taken_wh() == 0.0);
}

TEST_CASE("no hour shows more than the controllers let through") {
  const ShadeTable shade = first_camp(two_camps({"panels[2].controller_limit_w=20"}));
  const auto& open = shade.day(SkyWord::clear).open.watts;
  CHECK(*std::max_element(open.begin(), open.end()) == Approx(140.0).epsilon(1e-4));
}

TEST_CASE("hours are by the clock of the camp on the date") {
  const Plan plan = two_camps();
  const ShadeTable coast = first_camp(plan), desert = shade_table(plan, 1, middle_date(plan, 1));
  CHECK(coast.clock_offset_h == -7.0);
  CHECK(desert.clock_offset_h == -6.0);
  CHECK(desert.summer_time);
  const ShadeTable winter = shade_table(plan, 1, make_date(2027, 12, 20));
  CHECK(winter.clock_offset_h == -7.0);
  CHECK_FALSE(winter.summer_time);
}

TEST_CASE("a table of polar night has no hours") {
  const Plan plan = two_camps({"camp[1].place={ latitude = 78.2, longitude = 15.6 }"});
  const ShadeTable night = shade_table(plan, 0, make_date(2027, 12, 20));
  CHECK(night.hours.empty());
  CHECK(night.days[0].open.energy_wh() == 0.0);
  CHECK(night.days[0].taken_share() == 0.0);
}
