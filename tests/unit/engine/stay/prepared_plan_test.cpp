#include <cmath>
#include <stdexcept>
#include <string>

#include <catch2/catch.hpp>

#include "engine/study/prepare.hpp"
#include "engine/study/study.hpp"
#include "tests/support/batch_mean.hpp"
#include "tests/support/engine_plan.hpp"
#include "weather/random_stream.hpp"
#include "weather/standard_normal_pair.hpp"

using namespace dullspell;

// What becomes of a plan's hours and loads.

namespace {

constexpr double kGrid_w = 1e-4;  // watts are kept on a grid of 2^-16

std::string plan_text(const std::string& tables, const std::string& arrive = "2027-06-10T00:00:00",
                      const std::string& leave = "24:00") {
  return "arrive = " + arrive + "\nleave = \"" + leave +
         "\"\n[[camp]]\nplace = \"bishop-ca\"\nnights = 1\n"
         "[battery]\ncapacity_wh = 1000\nnominal_v = 12.8\n" +
         tables;
}

std::string load_text(const std::string& keys) {
  return "[[load]]\nname = \"it\"\n" + keys;
}

/// The one load's watts in a clock hour of the first date.
double dc_at(const PreparedPlan& plan, int hour) {
  return plan.hours.at(static_cast<std::size_t>(hour)).fixed_dc_w;
}

double first_day_wh(const PreparedPlan& plan) {
  double sum = 0.0;
  for (int h = 0; h < 24; ++h) sum += dc_at(plan, h);
  return sum;
}

}  // namespace

TEST_CASE("a load runs in its window, over midnight and with minutes pro rata") {
  const PreparedPlan plan =
      prepared_of(plan_text(load_text("watts = 40\nbetween = [\"22:15\", \"01:45\"]\n")));
  CHECK(dc_at(plan, 21) == 0.0);
  CHECK(dc_at(plan, 22) == Approx(30.0));
  CHECK(dc_at(plan, 23) == Approx(40.0));
  CHECK(dc_at(plan, 0) == Approx(40.0));
  CHECK(dc_at(plan, 1) == Approx(30.0));
  CHECK(dc_at(plan, 2) == 0.0);
  CHECK(first_day_wh(plan) == Approx(140.0));
}

TEST_CASE("a load without hours runs day and night, in watts or in amperes") {
  CHECK(first_day_wh(prepared_of(plan_text(load_text("watts = 10\n")))) == Approx(240.0));
  CHECK(first_day_wh(prepared_of(plan_text(load_text("amps = 0.5\n")))) ==
        Approx(24.0 * 6.4).margin(24 * kGrid_w));
}

TEST_CASE("hours of use spread evenly over the windows") {
  const PreparedPlan plan = prepared_of(plan_text(
      load_text("watts = 60\nhours_per_day = 2\nbetween = [[\"07:00\", \"09:00\"], [\"18:00\", "
                "\"20:00\"]]\n")));
  for (const int hour : {7, 8, 18, 19}) CHECK(dc_at(plan, hour) == Approx(30.0));
  CHECK(dc_at(plan, 9) == 0.0);
  CHECK(first_day_wh(plan) == Approx(120.0));
}

TEST_CASE("hours away are cut out of a load's window and its hours of use keep their sum") {
  const PreparedPlan always =
      prepared_of(plan_text(load_text("watts = 60\naway = [\"10:00\", \"16:30\"]\n")));
  CHECK(dc_at(always, 9) == Approx(60.0));
  CHECK(dc_at(always, 10) == 0.0);
  CHECK(dc_at(always, 16) == Approx(30.0));
  CHECK(first_day_wh(always) == Approx(60.0 * 17.5));
  const PreparedPlan some = prepared_of(
      plan_text(load_text("watts = 60\nhours_per_day = 3\nbetween = [\"08:00\", \"20:00\"]\naway = "
                          "[\"10:00\", \"16:00\"]\n")));
  CHECK(dc_at(some, 12) == 0.0);
  CHECK(dc_at(some, 18) == Approx(30.0));
  CHECK(first_day_wh(some) == Approx(180.0));
}

TEST_CASE("loads sit before the inverter, behind it, or behind a converter of its output") {
  const std::string inverter = "[inverter]\nrated_w = 1000\nstandby_w = 12\n";
  const PreparedPlan ac =
      prepared_of(plan_text(inverter + load_text("side = \"ac\"\nwatts = 40\n")));
  CHECK(ac.hours[5].fixed_ac_w == Approx(40.0));
  CHECK(ac.hours[5].fixed_dc_w == 0.0);
  const PreparedPlan via =
      prepared_of(plan_text(inverter + "[converter]\nefficiency = 0.8\nstandby_w = 3\n" +
                            load_text("side = \"dc-via-ac\"\nwatts = 40\n")));
  CHECK(via.hours[5].fixed_ac_w == Approx(50.0 + 3.0));
}

TEST_CASE("with the inverter off its loads stop, and so does its standby") {
  const PreparedPlan plan = prepared_of(
      plan_text("[inverter]\nrated_w = 1000\nstandby_w = 12\non = [[\"07:00\", \"22:30\"]]\n" +
                load_text("side = \"ac\"\nwatts = 40\n")));
  CHECK(plan.hours[6].inverter_on == 0.0);
  CHECK(plan.hours[6].fixed_ac_w == 0.0);
  CHECK(plan.hours[7].inverter_on == 1.0);
  CHECK(plan.hours[7].fixed_ac_w == Approx(40.0));
  CHECK(plan.hours[22].inverter_on == Approx(0.5));
  CHECK(plan.hours[22].fixed_ac_w == Approx(20.0));
  const WatchedStay watched(plan, steady_sky({0.5, 20.0, 0.0}));
  CHECK(watched.hours.home()[6].flow.inverter_loss_wh == 0.0);
}

TEST_CASE("a load whose window lies within the inverter's hours loses none of its use") {
  // Both begin at 06:30: in the hour of 6 the load runs for its half hour.
  const Plan plan = plan_of(
      plan_text("[inverter]\nrated_w = 1000\non = [[\"06:30\", \"22:00\"]]\n" +
                load_text("side = \"ac\"\nwatts = 40\nbetween = [\"06:30\", \"08:00\"]\n")));
  const PreparedPlan prepared = prepare(plan);
  CHECK(prepared.hours[6].fixed_ac_w == Approx(20.0));
  CHECK(prepared.hours[7].fixed_ac_w == Approx(40.0));
  CHECK(plan.notes.empty());
}

TEST_CASE("what varies has a mean of 1 and the coefficient of variation that it states") {
  for (const double cv : {0.2, 0.5, 1.0}) {
    CAPTURE(cv);
    const PreparedPlan plan = prepared_of(plan_text(
        load_text("watts = 10\nhours_per_day = 0.1\nvaries = " + std::to_string(cv) + "\n")));
    REQUIRE(plan.flexible.size() == 1);
    const FlexibleLoad& load = plan.flexible[0];
    BatchMean mean, squares;
    const StandardNormalPair pair;
    for (std::uint32_t i = 0; i < 100'000; ++i) {
      RandomStream stream({8, i, 0, DrawPurpose::test});
      const double use = use_on_day(load, 0, load.use_of_draw(pair(stream).first), 0.6);
      mean(use);
      squares((use - 1.0) * (use - 1.0));
    }
    CHECK_THAT(mean, WithinErrors(1.0, 4.0));
    CHECK_THAT(squares, WithinErrors(cv * cv, 4.0));
  }
}

TEST_CASE("loads vary independently of each other and from day to day") {
  const PreparedPlan plan = prepared_of(R"(
arrive = 2027-06-10T00:00:00
[[camp]]
place = "bishop-ca"
nights = 1
[battery]
capacity_wh = 200000
[inverter]
rated_w = 1000
standby_w = 0
efficiency_at = [[1.0, 1.0]]
[[load]]
name = "a"
watts = 100
hours_per_day = 1
between = ["08:00", "10:00"]
varies = 0.3
[[load]]
name = "b"
side = "ac"
watts = 100
hours_per_day = 1
between = ["08:00", "10:00"]
varies = 0.3
)");
  BatchMean a_b, a_next, a_a;
  for (std::uint32_t stay = 0; stay < 4000; ++stay) {
    const auto hours = WatchedStay(plan, steady_sky({0.6, 20.0, 0.0}), stay).hours.home();
    const double a = hours[8].needs.dc_w / 50.0 - 1.0, b = hours[8].needs.ac_w / 50.0 - 1.0;
    const double next = hours[32].needs.dc_w / 50.0 - 1.0;
    CHECK(hours[9].needs.dc_w == hours[8].needs.dc_w);  // one draw a day
    a_b(a * b);
    a_next(a * next);
    a_a(a * a);
  }
  CHECK_THAT(a_b, WithinErrors(0.0, 4.0));
  CHECK_THAT(a_next, WithinErrors(0.0, 4.0));
  CHECK(a_a.errors_from(0.0) > 20.0);  // common draws would show
}

TEST_CASE("the dull-day factor holds in full to K 0.25, half at 0.375, not from 0.5") {
  const PreparedPlan plan =
      prepared_of(plan_text(load_text("watts = 10\nhours_per_day = 4\ndull_day_factor = 1.8\n")));
  const FlexibleLoad& load = plan.flexible.at(0);
  CHECK(use_on_day(load, 0, 1.0, 0.10) == Approx(1.8).margin(kGrid_w));
  CHECK(use_on_day(load, 0, 1.0, 0.25) == Approx(1.8).margin(kGrid_w));
  CHECK(use_on_day(load, 0, 1.0, 0.375) == Approx(1.4).margin(kGrid_w));
  CHECK(use_on_day(load, 0, 1.0, 0.50) == 1.0);
  CHECK(use_on_day(load, 0, 1.0, 0.70) == 1.0);
  CHECK(use_on_day(load, 0, 0.5, 0.10) == Approx(0.9).margin(kGrid_w));
  // A factor below 1 is less use on dull days.
  const PreparedPlan less =
      prepared_of(plan_text(load_text("watts = 10\nhours_per_day = 4\ndull_day_factor = 0\n")));
  CHECK(use_on_day(less.flexible.at(0), 0, 1.0, 0.1) == 0.0);
}

TEST_CASE("on dull days a load without hours takes more watts in the same hours") {
  const PreparedPlan day_and_night =
      prepared_of(plan_text(load_text("watts = 10\ndull_day_factor = 1.8\n")));
  const PreparedPlan evening = prepared_of(plan_text(
      load_text("watts = 10\nbetween = [\"18:00\", \"22:00\"]\ndull_day_factor = 1.8\n")));
  const auto watts_at = [](const PreparedPlan& plan, double k, std::size_t hour) {
    return WatchedStay(plan, steady_sky({k, 20.0, 0.0}), 1).hours.home().at(hour).needs.dc_w;
  };
  CHECK(watts_at(day_and_night, 0.2, 3) == Approx(18.0).margin(10 * kGrid_w));
  CHECK(watts_at(day_and_night, 0.6, 3) == Approx(10.0));
  CHECK(watts_at(evening, 0.2, 18) == Approx(18.0).margin(10 * kGrid_w));
  CHECK(watts_at(evening, 0.375, 21) == Approx(14.0).margin(10 * kGrid_w));
  CHECK(watts_at(evening, 0.2, 17) == 0.0);
  CHECK(watts_at(evening, 0.2, 22) == 0.0);
  const PreparedPlan less =
      prepared_of(plan_text(load_text("watts = 10\ndull_day_factor = 0.5\n")));
  CHECK(watts_at(less, 0.2, 3) == Approx(5.0));
  // Words about what may be too much for battery or inverter go by the dull day.
  const Plan above =
      plan_of(plan_text("[inverter]\nrated_w = 300\n" +
                        load_text("side = \"ac\"\nwatts = 200\ndull_day_factor = 1.8\n")));
  REQUIRE(above.notes.size() == 1);
  CHECK(above.notes[0] == PlanNote(plan_note::LoadAboveInverter{"it", 360.0, 300.0}));
}

TEST_CASE("a load of the dark follows the sun of each date and each camp") {
  const auto stay = [](const std::string& arrive, const std::string& load) {
    return prepared_of(
        "arrive = " + arrive +
        "T00:00:00\nleave = \"12:00\"\n[[camp]]\nplace = { latitude = 64.84, longitude = -147.72 "
        "}\nnights = 2\n[battery]\ncapacity_wh = 1000\n[[load]]\nname = \"lights\"\nwatts = 60\n" +
        load);
  };
  const auto day_wh = [](const PreparedPlan& plan, int day) {
    double sum = 0.0;
    for (std::size_t h = 0; h < plan.hours.size(); ++h) {
      if (plan.hours[h].day == day) sum += plan.hours[h].fixed_dc_w;
    }
    return sum;
  };
  const std::string waking = "between = [\"06:00\", \"23:00\"]\n";
  // Sun from 10:58 to 14:40 (daylight_test.cpp): dark from 06:00 and to 23:00.
  const PreparedPlan december = stay("2027-12-21", "only = \"dark\"\n" + waking);
  CHECK(day_wh(december, 0) == Approx(60.0 * (4 + 58 / 60.0 + 8 + 20 / 60.0)).margin(6.0));
  CHECK(december.hours[12].fixed_dc_w == 0.0);
  CHECK(december.hours[14].fixed_dc_w == Approx(20.0).margin(3.0));
  CHECK(december.hours[20].fixed_dc_w == Approx(60.0));
  CHECK(december.hours[23].fixed_dc_w == 0.0);
  // In June the sun sets after midnight.
  CHECK(day_wh(stay("2027-06-21", "only = \"dark\"\n" + waking), 0) == 0.0);
  const PreparedPlan white = stay("2027-06-21", "only = \"dark\"\n");
  CHECK(day_wh(white, 0) == Approx(60.0 * 2 + 10).margin(6.0));
  // Three hours of use, but no more than are dark.
  const std::string three = "hours_per_day = 3\nonly = \"dark\"\n";
  CHECK(day_wh(stay("2027-12-21", three + waking), 0) == Approx(180.0).margin(0.01));
  CHECK(day_wh(stay("2027-06-21", three), 0) == Approx(day_wh(white, 0)));
  // Dark and daylight together are all hours.
  const PreparedPlan light = stay("2027-12-21", "only = \"daylight\"\n" + waking);
  for (const int day : {0, 1}) {
    CHECK(day_wh(december, day) + day_wh(light, day) == Approx(60.0 * 17).margin(0.01));
  }
  // A day that asks for more fills the dark hours, whatever it asks for.
  const PreparedPlan varied = stay("2027-06-21", three + "varies = 0.5\n");
  const FlexibleLoad& load = varied.flexible.at(0);
  CHECK(load.watts[1] * use_on_day(load, 0, 50.0, 0.6) == Approx(60.0).margin(0.01));
  CHECK(load.watts[1] * use_on_day(load, 0, 0.1, 0.6) * 2.17 / 60.0 == Approx(0.3).margin(0.02));
}

TEST_CASE("no day uses a load for longer than its windows are open") {
  const PreparedPlan plan = prepared_of(plan_text(
      load_text("watts = 10\nhours_per_day = 3\nbetween = [\"18:00\", \"22:00\"]\nvaries = 2\n")));
  const FlexibleLoad& load = plan.flexible.at(0);
  CHECK(load.most.front() == Approx(4.0 / 3.0).margin(kGrid_w));
  CHECK(use_on_day(load, 0, 50.0, 0.6) == load.most.front());
  for (const std::uint32_t stay : {0u, 1u, 2u, 3u, 4u, 5u, 6u, 7u}) {
    const WatchedStay watched(plan, steady_sky({0.1, 20.0, 0.0}), stay);
    for (const auto& hour : watched.hours.home()) {
      CHECK(hour.needs.dc_w <= 10.0 * (1.0 + kGrid_w));
    }
  }
}

TEST_CASE("an optional load is given up below its charge and comes back above it") {
  // 1,000 Wh lossless, half full, 100 W of optional load above 45 %: it runs once, then waits for
  // the sun of noon.
  PreparedPlan plan = bare_plan(1, {9, 10, 11, 12, 13, 14}, 1000.0);
  plan.battery.start_charge = 0.5;
  set_panels(plan, 12, 300.0);
  FlexibleLoad load;
  load.watts.assign(6, 100.0);
  load.most.push_back(1.0);
  load.optional_below = 0.45;
  plan.flexible.push_back(load);
  const WatchedStay watched(plan, steady_sky(mild_day(1.0)));
  const auto& hours = watched.hours.home();
  const std::vector<double> expected{100, 0, 0, 0, 100, 100};
  for (std::size_t h = 0; h < 6; ++h) {
    CAPTURE(h);
    CHECK(hours[h].needs.dc_w == expected[h]);
  }
  const TrackTrace& trace = watched.trace.home;
  CHECK(trace.given_up_wh == Approx(300.0));
  CHECK(trace.shortfall_wh == 0.0);
  CHECK(trace.demand_wh == Approx(300.0));
  CHECK_FALSE(trace.ever_flat());
  CHECK(trace.charge.back() == Approx(0.5));
}

TEST_CASE("hours run from arrival to departure on the plan's clock") {
  const PreparedPlan plan =
      prepared_of(plan_text(load_text("watts = 1\n"), "2027-06-10T15:00:00", "11:00"));
  REQUIRE(plan.hours.size() == 20);
  CHECK(plan.hours.front().hour_of_day == 15);
  CHECK(plan.hours.front().day == 0);
  CHECK(plan.hours[8].hour_of_day == 23);
  CHECK(plan.hours[9].hour_of_day == 0);
  CHECK(plan.hours[9].day == 1);
  CHECK(plan.hours.back().hour_of_day == 10);
  REQUIRE(plan.dates.size() == 2);
  CHECK(iso_date(plan.dates[1]) == "2027-06-11");
  CHECK(plan.segments.size() == 2);
}

TEST_CASE("leaving at midnight leaves out the date of departure, at 24:00 it has all its hours") {
  const std::string load = load_text("watts = 1\n");
  const PreparedPlan early = prepared_of(plan_text(load, "2027-06-10T15:00:00", "00:00"));
  CHECK(early.hours.size() == 9);
  CHECK(early.dates.size() == 1);
  CHECK(early.sequence.days() == 1);
  CHECK(prepared_of(plan_text(load, "2027-06-10T15:00:00", "24:00")).hours.size() == 33);
}

TEST_CASE("a stay over a leap day and a year's end has all its dates") {
  const std::string load = load_text("watts = 1\n");
  const PreparedPlan leap = prepared_of(plan_text(load, "2028-02-28T12:00:00", "12:00"));
  CHECK(iso_date(leap.dates[1]) == "2028-02-29");
  const PreparedPlan new_year = prepared_of(plan_text(load, "2027-12-31T12:00:00", "12:00"));
  CHECK(iso_date(new_year.dates[1]) == "2028-01-01");
}

namespace {

const std::string kTrip = R"(
arrive = 2027-06-10T15:00:00
leave = "10:00"
[[camp]]
place = "bishop-ca"
nights = 2
[[camp]]
place = "phoenix-az"
nights = 1
drive_in_h = 2.5
hookup = true
[battery]
capacity_wh = 1000
[vehicle]
charge_w = 200
[hookup]
charger_w = 100
[[panels]]
rated_w = 100
[[load]]
name = "lamp"
watts = 5
)";

}  // namespace

TEST_CASE("the camp changes at the hour of leaving, and each part of a date has its own weather") {
  const PreparedPlan plan = prepared_of(kTrip);
  REQUIRE(plan.dates.size() == 4);
  REQUIRE(plan.segments.size() == 5);
  const int expected[][3] = {{0, 0, 9}, {1, 0, 24}, {2, 0, 10}, {2, 1, 14}, {3, 1, 10}};
  int first_hour = 0;
  for (std::size_t i = 0; i < 5; ++i) {
    CAPTURE(i);
    const Segment& segment = plan.segments[i];
    CHECK(segment.day == expected[i][0]);
    CHECK(segment.camp == expected[i][1]);
    CHECK(segment.end_hour - segment.first_hour == expected[i][2]);
    CHECK(segment.first_hour == first_hour);
    first_hour = segment.end_hour;
    for (int h = segment.first_hour; h < segment.end_hour; ++h) {
      CHECK(plan.hours[static_cast<std::size_t>(h)].segment == static_cast<int>(i));
    }
  }
  CHECK(first_hour == static_cast<int>(plan.hours.size()));
  CHECK(plan.segments[3].temp_mean_c > plan.segments[2].temp_mean_c + 5.0);
}

TEST_CASE("both parts of a date of changing camp come from the same draw") {
  const PreparedPlan plan = prepared_of(kTrip);
  std::vector<SegmentSky> sky(plan.segments.size());
  std::vector<DayDeviates> days(plan.sequence.days());
  DrawnSky(plan, 7).fill(3, sky);
  plan.sequence.draw(7, 3, days);
  CHECK(sky[2].k == plan.segments[2].k_of_chi(days[2].chi));
  CHECK(sky[3].k == plan.segments[3].k_of_chi(days[2].chi));
}

TEST_CASE("while driving the panels are away and the vehicle charges; the mains wait") {
  const PreparedPlan plan = prepared_of(kTrip);
  const auto first = static_cast<std::size_t>(plan.segments[3].first_hour);
  const double vehicle[] = {200.0, 200.0, 100.0, 0.0}, out[] = {0.0, 0.0, 0.5, 1.0};
  const bool mains[] = {false, false, true, true};
  for (std::size_t i = 0; i < 4; ++i) {
    CAPTURE(i);
    CHECK(plan.hours[first + i].vehicle_w == Approx(vehicle[i]));
    CHECK(plan.hours[first + i].at_camp == Approx(out[i]));
    CHECK((plan.hours[first + i].source == Source::mains) == mains[i]);
  }
  CHECK(plan.hours[first - 1].at_camp == 1.0);
  CHECK(plan.hours[first - 1].source != Source::mains);
  const double whole = panels_of(plan, plan.hours[first + 3], 0.6, 20.0);
  CHECK(whole > 10.0);
  CHECK(panels_of(plan, plan.hours[first], 0.6, 20.0) == 0.0);
}

TEST_CASE("on the mains a battery fills at the charger's watts and the loads do not drain it") {
  PreparedPlan plan = prepared_of(kTrip);
  plan.battery.start_charge = 0.0;
  const WatchedStay watched(plan, steady_sky({0.0, 20.0, 0.0}));
  const auto arrival = static_cast<std::size_t>(plan.segments[3].first_hour + 3);
  const HourFlow& flow = watched.hours.home()[arrival].flow;
  CHECK(flow.outside_share == 1.0);
  CHECK(flow.to_battery_wh == Approx(100.0));
  CHECK(flow.served_dc_wh == Approx(5.0));
}

TEST_CASE("summer time moves the sun an hour later on the clock") {
  const std::string panels = load_text("watts = 1\n") + "[[panels]]\nrated_w = 100\n";
  const PreparedPlan standard = prepared_of("summer_time = false\n" + plan_text(panels));
  const PreparedPlan summer = prepared_of("summer_time = true\n" + plan_text(panels));
  for (int hour = 0; hour < 23; ++hour) {
    CAPTURE(hour);
    CHECK(panels_of(summer, summer.hours[static_cast<std::size_t>(hour + 1)], 0.5, 20.0) ==
          Approx(panels_of(standard, standard.hours[static_cast<std::size_t>(hour)], 0.5, 20.0))
              .margin(0.01));
  }
}

TEST_CASE("a camp above its place is colder by 6.5 K a kilometre") {
  const auto with = [](const std::string& key) {
    return prepared_of(
        "arrive = 2027-06-10T15:00:00\n[[camp]]\nplace = \"bishop-ca\"\nnights = 1\n" + key +
        "[battery]\ncapacity_wh = 1000\n" + load_text("watts = 1\n"));
  };
  const double here = with("").segments[0].temp_mean_c;
  // The place lies at 1,250 m.
  CHECK(with("elevation_m = 1250\n").segments[0].temp_mean_c == Approx(here));
  CHECK(with("elevation_m = 2250\n").segments[0].temp_mean_c == Approx(here - 6.5).margin(1e-4));
}

TEST_CASE("the warmest hour is that of 15:00 solar time, and the day's mean is the stated one") {
  const PreparedPlan plan = prepared_of(plan_text(load_text("watts = 1\n")));
  double sum = 0.0;
  int warmest = 0;
  for (int h = 0; h < 24; ++h) {
    const double swing = plan.hours[static_cast<std::size_t>(h)].temperature_swing;
    sum += swing;
    if (swing > plan.hours[static_cast<std::size_t>(warmest)].temperature_swing) warmest = h;
    CHECK(std::abs(swing) <= 0.5);
  }
  CHECK(sum == Approx(0.0).margin(24 * kGrid_w));
  CHECK((warmest == 14 || warmest == 15));
}

TEST_CASE(
    "a generator loses 3.5 % of its rating for every 305 m above the first, at the highest camp") {
  const auto rated_at = [](const std::string& elevation_m) {
    const std::string camp = "[[camp]]\nplace = \"bishop-ca\"\nnights = 1\n";
    return prepared_of("arrive = 2027-06-10T15:00:00\n" + camp + "elevation_m = 0\n" + camp +
                       "elevation_m = " + elevation_m +
                       "\n[battery]\ncapacity_wh = 1000\n"
                       "[generator]\nrated_w = 1000\ncharger_w = 400\nallowed = [[\"08:00\", "
                       "\"10:00\"]]\n" +
                       load_text("watts = 1\n"))
        .generator->rated_w;
  };
  // Manuals' rule, common practice: 0.965 at 610 m, 0.748 at 2,500 m.
  CHECK(rated_at("0") == 1000.0);
  CHECK(rated_at("305") == 1000.0);
  CHECK(rated_at("610") == Approx(965.0).margin(kGrid_w));
  CHECK(rated_at("2500") == Approx(748.0).margin(0.5));
}

TEST_CASE("a generator loses to heat by the mean temperature of its hours, at the worst camp") {
  const auto prepared_for = [](const std::string& camps, const std::string& allowed,
                               const std::string& more = "") {
    return prepared_of("arrive = 2027-07-10T12:00:00\nleave = \"12:00\"\n" + camps +
                       "[battery]\ncapacity_wh = 1000\n"
                       "[generator]\nrated_w = 1000\ncharger_w = 400\nallowed = [[" +
                       allowed + "]]\n" + more + load_text("watts = 1\n"));
  };
  const std::string cool = "[[camp]]\nplace = \"crescent-city-ca\"\nnights = 2\nelevation_m = 0\n";
  const std::string hot = "[[camp]]\nplace = \"tucson-az\"\nnights = 2\nelevation_m = 300\n";
  const std::string afternoon = "\"14:00\", \"16:00\"", morning = "\"05:00\", \"06:00\"";
  CHECK(prepared_for(cool, afternoon).generator->rated_w == 1000.0);
  CHECK(prepared_for(hot, morning).generator->rated_w == 1000.0);

  const PreparedPlan prepared = prepared_for(cool + hot, afternoon);
  double sum_c = 0.0;
  int hours = 0;
  for (const HourSlot& slot : prepared.hours) {
    const Segment& segment = prepared.segments[slot.segment];
    if (segment.camp == CampIndex(0) || slot.source != Source::generator) continue;
    sum_c += segment.temp_mean_c + segment.range_mean_c * slot.temperature_swing;
    ++hours;
  }
  REQUIRE(hours == 4);
  CHECK(sum_c / hours > 35.0);
  CHECK(prepared.derating.height == 1.0);
  CHECK(prepared.generator->rated_w ==
        Approx(1000.0 * (1.0 - 0.02 * (sum_c / hours - 29.4) / 5.6)).margin(kGrid_w));
  CHECK(prepared_for(cool, afternoon, "fuel = \"propane\"\n").generator->rated_w ==
        Approx(900.0).margin(kGrid_w));
}

namespace {

// Two camps of contrasting skies; the first is left on 11 June at 11:00 for a drive of 2.5 h.
std::string two_camps(const std::string& top) {
  return top + R"(
arrive = 2027-06-09T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 2
canopy = 0.3
[[camp]]
place = "daggett-ca"
nights = 2
drive_in_h = 2.5
elevation_m = 1500
[vehicle]
charge_w = 200
[battery]
capacity_wh = 1000
start_charge = 0.8
[[panels]]
rated_w = 100
[[load]]
name = "lamp"
watts = 5
between = ["19:00", "23:00"]
[generator]
rated_w = 1000
charger_w = 500
allowed = [["17:00", "20:00"]]
)";
}

}  // namespace

TEST_CASE("from now on, a stay under way has the hours of the whole stay") {
  const PreparedPlan whole = prepared_of(two_camps(""));
  for (const auto* now : {"2027-06-09T23", "2027-06-10T00", "2027-06-11T10", "2027-06-11T11",
                          "2027-06-11T12", "2027-06-11T13", "2027-06-12T18", "2027-06-13T10"}) {
    CAPTURE(now);
    const PreparedPlan rest = prepared_of(two_camps("now = " + std::string(now) + ":00:00"));
    const std::size_t dropped = whole.hours.size() - rest.hours.size();
    CHECK(rest.first_day == whole.hours[dropped].day);
    CHECK(rest.dates.front() == whole.dates[static_cast<std::size_t>(rest.first_day)]);
    CHECK(rest.dates.back() == whole.dates.back());
    CHECK(rest.hours[0].hour_of_day == std::stoi(std::string(now).substr(11)));
    for (std::size_t h = 0; h < rest.hours.size(); ++h) {
      const HourSlot &a = whole.hours[dropped + h], &b = rest.hours[h];
      CHECK(a.day.value == b.day.value + rest.first_day);
      CHECK(a.hour_of_day == b.hour_of_day);
      CHECK(a.at_camp == b.at_camp);
      CHECK(a.vehicle_w == b.vehicle_w);
      CHECK(a.fixed_dc_w == b.fixed_dc_w);
      CHECK(a.temperature_swing == b.temperature_swing);
      const Segment& of_a = whole.segments[a.segment];
      const Segment& of_b = rest.segments[b.segment];
      CHECK(of_a.camp == of_b.camp);
      CHECK(of_a.k_mean == of_b.k_mean);
      CHECK(panels_of(whole, a, 0.5, 20.0) == panels_of(rest, b, 0.5, 20.0));
    }
  }
}

TEST_CASE("a known sky is that of the camp where one wakes up on its date") {
  const PreparedPlan plan = prepare(with_stated_places(plan_of(two_camps(R"(
yesterday = "overcast"
forecast = [ { day = 1, sky = "clear" }, { date = 2027-06-11, sky = "clear" },
             { date = 2027-06-12, sky = "clear" }, { date = 2027-06-13, k = 0.5 } ])"))));
  REQUIRE(plan.known.size() == 5);
  CHECK(plan.known[0].day == -1);
  CHECK(iso_date(plan.known[0].date) == "2027-06-08");
  CHECK(plan.known[2].day == 2);
  const auto segment = [&](int day, int camp) {
    for (const Segment& s : plan.segments) {
      if (s.day == day && s.camp == camp) return s;
    }
    throw std::logic_error("no such segment");
  };
  // 11 June begins at the first camp; means are on the common grid.
  CHECK(plan.known[2].stated.k ==
        Approx(0.87 * largest_clearness(segment(2, 0).k_mean)).margin(1e-4));
  CHECK(plan.known[3].stated.k ==
        Approx(0.87 * largest_clearness(segment(3, 1).k_mean)).margin(1e-4));
  CHECK(plan.known[3].stated.k > plan.known[2].stated.k + 0.01);

  const DrawnSky sky(plan, 3);
  std::vector<SegmentSky> out(plan.segments.size());
  BatchMean k, spread;
  for (std::uint32_t stay = 0; stay < 2000; ++stay) {
    sky.fill(stay, out);
    k(out.back().k);
    spread((out.back().k - 0.5) * (out.back().k - 0.5));
  }
  // The last date's K as stated, where the table is nearly straight around it.
  CHECK(k.mean() == Approx(0.5).margin(0.03));
  CHECK(std::sqrt(spread.mean()) == Approx(0.10).margin(0.03));
}

TEST_CASE("an overcast forecast raises the risk of the days it is for, and fades") {
  const std::string file = DULLSPELL_SOURCE_DIR "/datasets/plans/two-forest-camps.toml";
  const std::vector<std::string> overcast{
      "forecast=[{ day = 1, sky = \"overcast\" }, { day = 2, sky = \"overcast\" }]"};
  const PreparedPlan plain = prepare(read_plan(file));
  const PreparedPlan known = prepare(read_plan(file, PlaceCatalogue::built_in(), overcast));
  StudyOptions options;
  options.stays = 4000;
  const auto by_third_day = [&](const PreparedPlan& plan) {
    return run_study(plan, options).home.days.at(2).flat_by_day;
  };
  CHECK(by_third_day(known).interval.low > by_third_day(plain).interval.high + 0.2);

  const std::size_t days = plain.sequence.days();
  std::vector<double> gap(days, 0.0);
  std::vector<DayDeviates> a(days), b(days);
  for (std::uint32_t stay = 0; stay < 4000; ++stay) {
    plain.sequence.draw(1, stay, a);
    known.sequence.draw(1, stay, b);
    for (std::size_t d = 0; d < days; ++d) gap[d] += (b[d].chi - a[d].chi) / 4000.0;
  }
  CHECK(gap[1] < -0.8);
  for (std::size_t d = 2; d < 6; ++d) CHECK(gap[d] > gap[d - 1]);
  CHECK(gap[7] > 0.3 * gap[1]);
  CHECK(gap[7] < 0.0);

  const PreparedPlan dull_eve =
      prepare(read_plan(file, PlaceCatalogue::built_in(), {"yesterday=overcast"}));
  const PreparedPlan clear_eve =
      prepare(read_plan(file, PlaceCatalogue::built_in(), {"yesterday=clear"}));
  CHECK(by_third_day(dull_eve).p > by_third_day(plain).p);
  CHECK(by_third_day(clear_eve).p < by_third_day(plain).p);
}

TEST_CASE("a plan that leaves at midnight has no day without hours") {
  const std::string plan =
      "leave = \"00:00\"\n[[camp]]\nplace = \"moab-ut\"\nnights = 2\n"
      "[battery]\ncapacity_wh = 800\n[[load]]\nname = \"all\"\nwatts = 60\n";
  const PreparedPlan prepared = prepared_of("arrive = 2027-05-21T15:00:00\n" + plan);
  CHECK(prepared.days() == 2);
  CHECK(prepared.sequence.days() == 2);
  CHECK(prepared.hours.back().day == 1);
  CHECK(prepared.hours.back().hour_of_day == 23);
  CHECK(prepared.hours.size() == 9 + 24);
}
