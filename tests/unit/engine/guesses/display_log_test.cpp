#include "engine/guesses/display_log.hpp"

#include <cmath>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "engine/guesses/posterior.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/input_text.hpp"
#include "weather/input/input_error.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::Contains;

const Plan& van() {
  static const Plan plan = plan_of(R"(
arrive = 2027-06-11T15:00:00
[[camp]]
place = "crescent-city-ca"
nights = 4
canopy = 0.5
[[camp]]
place = "crescent-city-ca"
nights = 3
[battery]
capacity_wh = 1200
[[panels]]
rated_w = 300
[[load]]
name = "router"
watts = 20
[[load]]
name = "lights"
watts = 20
between = ["19:00", "23:00"]
)");
  return plan;
}

DisplayLog log_of(const std::string& text, const LogTaken& taken = {}) {
  return read_display_log({"log.csv", text}, van(), taken);
}

std::string refusal(const std::string& text) {
  return message_of([&] { log_of(text); });
}

TEST_CASE("Charge in the evening and in the morning is a night and a day each") {
  const DisplayLog log = log_of(
      "time,charge_percent,volts\n"
      "2027-06-01 21:30,90,13.2\n"
      "2027-06-02 06:10,71,12.9\n"
      "2027-06-02 21:15,88,13.1\n"
      "2027-06-03 06:30,70,12.9\n");
  REQUIRE(log.readings.size() == 3);
  const Reading& night = log.readings[0];
  CHECK(night.kind == ReadingKind::charge);
  CHECK(night.logged);
  CHECK(night.charge_from == 0.90);
  CHECK(night.shown == 0.71);
  CHECK(night.from.date == make_date(2027, 6, 1));
  CHECK(night.from.minute_of_day == 21 * 60 + 30);
  CHECK(night.to.date == make_date(2027, 6, 2));
  CHECK(night.to.minute_of_day == 6 * 60 + 10);
  CHECK(log.readings[1].shown == 0.88);
  CHECK(log.readings[2].charge_from == 0.88);
  CHECK(log.findings.whole_percents);
  CHECK(log.findings.rows == 4);
  CHECK(log.findings.gaps.count == 0);
}

TEST_CASE("Watts add up to energy from rise to set and from set to rise") {
  std::string text = "time,charge,panels_w,draw_w\n";
  // Two dates, every 10 minutes: 60 W drawn, 100 W from the panels from 8 to 16 o'clock.
  for (int minute = 0; minute < 2 * 1440; minute += 10) {
    const int of_day = minute % 1440;
    text += fmt::format("2027-06-0{}T{:02}:{:02}:00,50.5 %,{},60\n", 1 + minute / 1440, of_day / 60,
                        of_day % 60, of_day >= 480 && of_day < 960 ? 100 : 0);
  }
  const DisplayLog log = log_of(text);
  std::vector<double> panels_wh, used_wh;
  for (const Reading& reading : log.readings) {
    const double hours = minutes_between(reading.from, reading.to) / 60.0;
    if (reading.kind == ReadingKind::panels_wh) {
      panels_wh.push_back(reading.shown);
      CHECK(hours > 14.5);  // June at 42 degrees north
      CHECK(hours < 15.3);
    } else if (reading.kind == ReadingKind::used_wh) {
      used_wh.push_back(reading.shown);
      CHECK(reading.shown == Approx(60.0 * hours));
    }
  }
  // The trapezoids at both ends make up for each other.
  REQUIRE(panels_wh.size() == 2);
  for (const double energy : panels_wh) CHECK(energy == Approx(800.0));
  CHECK(used_wh.size() == 5);
  CHECK(!log.findings.whole_percents);
}

TEST_CASE("Watts while the battery is nearly full, or may be, say nothing of the panels") {
  const auto energies = [](const DisplayLog& log) {
    return std::count_if(log.readings.begin(), log.readings.end(),
                         [](const Reading& r) { return r.kind == ReadingKind::panels_wh; });
  };
  std::string with = "time,charge,panels_w\n", full = with, without = "time,panels_w,draw_w\n";
  for (int hour = 8; hour < 18; ++hour) {
    for (const int minute : {0, 30}) {
      const std::string time = fmt::format("2027-06-01 {:02}:{:02}", hour, minute);
      with += fmt::format("{},{},100\n", time, hour < 12 ? 0.6 : 0.97);
      full += time + ",0.99,100\n";
      without += time + ",100,20\n";
    }
  }
  const DisplayLog log = log_of(with);
  REQUIRE(energies(log) == 1);
  CHECK(log.readings.back().to.minute_of_day == 11 * 60 + 30);
  CHECK(log.readings.back().shown == Approx(350.0));
  CHECK_THAT(refusal(full), Contains("holds nothing that the plan can be held against"));
  CHECK(energies(log_of(without)) == 0);
  CHECK(log_of(without).findings.panels_unjudged);
}

TEST_CASE("Gaps and clocks that go backwards are told, and nothing is read across them") {
  std::string text = "time,draw_w\n";
  const auto hour_of = [&](int hour) {
    for (int minute = 0; minute < 60; minute += 15) {
      text += fmt::format("2027-06-01 {:02}:{:02},40\n", hour, minute);
    }
  };
  for (const int hour : {8, 9, 10, 14, 15}) hour_of(hour);
  DisplayLog log = log_of(text);
  REQUIRE(log.readings.size() == 1);
  CHECK(log.readings[0].from.minute_of_day == 8 * 60);
  CHECK(log.readings[0].to.minute_of_day == 10 * 60 + 45);
  CHECK(log.readings[0].shown == Approx(110.0));
  CHECK(log.findings.gaps.count == 1);
  CHECK(log.findings.gaps.line == 14);
  CHECK(log.findings.longest_gap_min == 195);

  hour_of(15);  // again
  hour_of(16);
  log = log_of(text);
  CHECK(log.findings.backwards.count == 1);
  CHECK(log.findings.backwards.line == 22);
  CHECK(log.readings.size() == 2);
}

TEST_CASE("A log knows its camp by the date, unless it is told") {
  const std::string text =
      "time,charge\n"
      "2027-06-01 21:30,0.9\n"
      "2027-06-02 06:10,0.7\n"
      "2027-06-16 21:30,0.9\n"
      "2027-06-17 06:10,0.7\n";
  LogTaken taken;
  taken.counted_at = CountedAt::battery;
  DisplayLog log = log_of(text, taken);
  REQUIRE(log.readings.size() == 1);
  CHECK(log.findings.cut);
  CHECK(log.findings.rows == 2);
  CHECK(log.readings[0].camp == 1);
  CHECK(log.readings[0].counted_at == CountedAt::battery);
  taken.camp = 0;
  taken.in_the_open = true;
  log = log_of(text, taken);
  CHECK(log.readings[0].camp == 0);
  CHECK(log.readings[0].in_the_open);
}

TEST_CASE("A log that cannot be read says which line and why") {
  CHECK_THAT(refusal("when,charge\n"), Contains("has no column `time`"));
  CHECK_THAT(refusal("time,volts\n"), Contains("nothing besides the time") && Contains("draw_w"));
  CHECK_THAT(refusal("time,charge,charge_percent\n"), Contains("stands besides `charge`"));
  CHECK_THAT(refusal("time,charge\n"), Contains("has no rows"));
  for (const char* time :
       {"6/1/2027 9:30 PM", "2027-06-31 21:30", "2027-06-01 24:30", "2027-06-01 21:3",
        "2027-06-01 21:30 PM", "2027-06-01 21:30+02:00", "2027-06-01", ""}) {
    CHECK_THAT(refusal(fmt::format("time,charge\n2027-06-01 20:00:59.5,0.5\n{},0.5\n", time)),
               Contains("log.csv:3") && Contains("2027-05-22 21:30"));
  }
  CHECK_THAT(refusal("time,charge\n1907-06-01 21:30,0.5\n"), Contains("1950 to 2049"));
  CHECK_THAT(refusal("time,charge\n2027-06-01 21:30,92\n"), Contains("charge_percent"));
  CHECK_THAT(refusal("time,charge\n2027-06-01 21:30,192 %\n"), Contains("0 % to 100 %"));
  CHECK_THAT(refusal("time,charge_percent\n2027-06-01 21:30,192\n"), Contains("0 to 100"));
  CHECK_THAT(refusal("time,draw_w\n2027-06-01 21:30,-3\n"), Contains("columns of their own"));
  CHECK_THAT(refusal("time,draw_w\n2027-06-01 21:30,nan\n"), Contains("finite number"));
}

TEST_CASE("A log of the true kit corrects the list") {
  // What the display of another kit shows, by the engine's own hours on a clear week.
  Plan truth = van();
  truth.loads[0].watts = 31.0;
  truth.camps[0].canopy = 0.65;
  std::string text = "time,charge,panels_w,draw_w\n";
  double charge = 0.8;
  for (int hour = 18; hour < 18 + 3 * 24; ++hour) {
    const LocalTime at{make_date(2027, 6, 1) + std::chrono::days{hour / 24}, 60 * (hour % 24)};
    Reading reading;
    reading.sky = SkyWord::mixed;
    reading.from = at;
    reading.to = later(at, 60);
    reading.charge_from = charge;
    const double an_hour_later = ReadingModel(van(), reading).shown(truth);
    for (const int minute : {0, 20, 40}) {
      reading.from = reading.to = later(at, minute);
      const auto watts = [&](ReadingKind kind) {
        reading.kind = kind;
        return std::round(ReadingModel(van(), reading).shown(truth));
      };
      text += fmt::format("{} {:02}:{:02},{:.2f},{},{}\n", iso_date(at.date), hour % 24, minute,
                          charge + (an_hour_later - charge) * minute / 60.0,
                          watts(ReadingKind::panels_w), watts(ReadingKind::draw_w));
    }
    charge = an_hour_later;
  }
  Plan read = van();
  read.readings = log_of(text).readings;
  const Posterior posterior = posterior_of(read);
  CHECK(posterior.converged);
  const Plan there = corrected(read, posterior);
  CHECK(there.loads[0].watts == Approx(31.0).epsilon(0.05));
  // The sky is not noted: canopy moves the right way, as far as three days can say.
  CHECK(there.camps[0].canopy > 0.5);
  CHECK(there.battery.health == Approx(1.0).margin(0.03));
  for (const ReadingFit& fit : posterior.readings) CHECK(std::abs(fit.off_by) < kDoesNotFit);
}

}  // namespace
}  // namespace dullspell
