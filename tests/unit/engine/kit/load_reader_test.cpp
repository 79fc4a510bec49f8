#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "engine/plan/plan_file.hpp"
#include "tests/support/engine_plan.hpp"
#include "tests/support/input_text.hpp"

namespace dullspell::load_reader_test {

using Catch::Matchers::Contains;

// How long a load runs, said in the ways in which people know it.

namespace {

std::string plan_with(const std::string& load_keys) {
  return "arrive = 2027-05-21T15:00:00\n[[camp]]\nplace = \"bishop-ca\"\nnights = 2\n"
         "[battery]\ncapacity_wh = 1000\n[[load]]\nname = \"kettle\"\nwatts = 1200\n" +
         load_keys;
}

Load load_of(const std::string& keys, const std::vector<std::string>& settings = {}) {
  return plan_of(plan_with(keys), settings).loads.at(0);
}

std::string error_of(const std::string& keys) {
  return message_of([&] { load_of(keys); });
}

}  // namespace

TEST_CASE("a load's use is stated in hours, in minutes or as so many times of so many minutes") {
  for (const char* keys :
       {"hours_per_day = \"16 min\"\n", "minutes_per_day = 16\n",
        "times_per_day = 4\nminutes_each = 4\n", "times_per_day = 0.5\nminutes_each = 32\n"}) {
    CAPTURE(keys);
    const Load load = load_of(keys);
    CHECK(load.hours_stated);
    CHECK(load.hours_per_day == 16.0 / 60.0);
  }
  CHECK(load_of("minutes_per_day = 0\n").hours_per_day == 0.0);
  CHECK(load_of("minutes_per_day = 1440\n").hours_per_day == 24.0);
}

TEST_CASE("a load's use is stated once, in full, and fits its windows") {
  CHECK_THAT(error_of("hours_per_day = 1\nminutes_per_day = 60\n"),
             Contains("load[1].minutes_per_day is given besides hours_per_day; allowed: one of"));
  CHECK_THAT(error_of("minutes_per_day = 16\ntimes_per_day = 4\nminutes_each = 4\n"),
             Contains("load[1].times_per_day is given besides minutes_per_day"));
  CHECK_THAT(error_of("times_per_day = 4\n"),
             Contains("load[1].times_per_day needs minutes_each") && Contains("runs each time"));
  CHECK_THAT(error_of("minutes_each = 4\n"),
             Contains("load[1].minutes_each needs times_per_day") && Contains("how many times"));
  CHECK_THAT(error_of("minutes_per_day = 1441\n"),
             Contains("load[1].minutes_per_day is 1441; allowed: 0 to 1440 (min)"));
  CHECK_THAT(error_of("times_per_day = 1001\nminutes_each = 1\n"),
             Contains("load[1].times_per_day is 1001; allowed: 0 to 1000"));
  CHECK_THAT(error_of("times_per_day = 1\nminutes_each = -1\n"),
             Contains("load[1].minutes_each is -1; allowed: 0 to 1440 (min)"));
  CHECK_THAT(error_of("minutes_per_day = 90\nbetween = [\"07:00\", \"08:00\"]\n"),
             Contains("minutes_per_day makes 1.5 h; allowed: up to the 1.00 h of its windows"));
  CHECK_THAT(error_of("times_per_day = 100\nminutes_each = 30\n"),
             Contains("times_per_day makes 50 h; allowed: up to the 24.00 h of its windows"));
}

TEST_CASE("a use set on the command line stands in place of the file's, whichever way it is said") {
  const std::string file = "times_per_day = 4\nminutes_each = 4\n";
  CHECK(load_of(file, {"load[1].hours_per_day=2"}).hours_per_day == 2.0);
  CHECK(load_of(file, {"load[1].minutes_each=6"}).hours_per_day == 0.4);
  CHECK(load_of("minutes_per_day = 30\n", {"load[1].hours_per_day=2"}).hours_per_day == 2.0);
  CHECK(load_of("hours_per_day = 2\n", {"load[1].minutes_per_day=30"}).hours_per_day == 0.5);
}

TEST_CASE("a load may keep to the dark or to daylight, within its windows") {
  CHECK_FALSE(load_of("").only);
  CHECK(load_of("only = \"dark\"\n").only == DayPart::dark);
  CHECK(load_of("only = \"daylight\"\nhours_per_day = 4\n").only == DayPart::daylight);
  CHECK_FALSE(load_of("only = \"dark\"\n").never_stops());
  CHECK_THAT(error_of("only = \"night\"\n"),
             Contains("load[1].only is \"night\"; allowed: \"dark\", \"daylight\""));

  const std::vector<ClockWindow> sunny{{5 * 60 + 40, 20 * 60 + 15}};
  const auto text_of = [&](const std::string& keys) {
    std::string text;
    for (const ClockWindow& window : windows_on(load_of(keys), sunny)) {
      text += clock_text(window.from_min) + "-" + clock_text(window.to_min) + " ";
    }
    return text;
  };
  CHECK(text_of("only = \"dark\"\n") == "00:00-05:40 20:15-24:00 ");
  CHECK(text_of("only = \"dark\"\nbetween = [\"06:00\", \"23:00\"]\n") == "20:15-23:00 ");
  CHECK(text_of("only = \"daylight\"\nbetween = [\"06:00\", \"23:00\"]\n") == "06:00-20:15 ");
  CHECK(text_of("only = \"dark\"\nbetween = [\"08:00\", \"12:00\"]\n").empty());
  CHECK(text_of("between = [\"06:00\", \"23:00\"]\n") == "06:00-23:00 ");
}

}  // namespace dullspell::load_reader_test
