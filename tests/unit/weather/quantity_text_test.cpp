#include "weather/input/quantity_text.hpp"

#include <catch2/catch.hpp>

using namespace dullspell;

TEST_CASE("a percent is a number before its sign, with or without a blank") {
  CHECK(percent_in("41 %") == 41.0);
  CHECK(percent_in("41%") == 41.0);
  CHECK(percent_in(" 41.5  % ") == 41.5);
  CHECK(percent_in("-5 %") == -5.0);
  CHECK(percent_in("0.5%") == 0.5);
  CHECK(percent_in("120 %") == 120.0);
  for (const char* text : {"", "%", " % ", "41", "4 1 %", "41 %%", "% 41", "a %", "41 % of it"}) {
    CAPTURE(text);
    CHECK_FALSE(percent_in(text));
  }
}

TEST_CASE("hours of use are hours, minutes, both, or read off a clock") {
  CHECK(hours_in("2:30") == 2.5);
  CHECK(hours_in("0:45") == 0.75);
  CHECK(hours_in("24:00") == 24.0);
  CHECK(hours_in("2 h 30 min") == 2.5);
  CHECK(hours_in("2h30m") == 2.5);
  CHECK(hours_in("2h30") == 2.5);
  CHECK(hours_in("1 hour 15 minutes") == 1.25);
  CHECK(hours_in(" 2 HRS ") == 2.0);
  CHECK(hours_in("2.3 h") == 2.3);
  CHECK(hours_in("45 min") == 0.75);
  CHECK(hours_in("150 mins") == 2.5);
  CHECK(hours_in("2:20") == 140.0 / 60.0);
  for (const char* text :
       {"",        "2",      "2.5",  ":30",          "2:",         "2:5",          "2:60",
        "2:30:00", "25:00",  "h",    "min",          "2 h 60 min", "2.5 h 10 min", "30 min 2 h",
        "2 h 3 h", "2 days", "-2 h", "2 h 30 min x", "2 h 30 s",   "2,5 h",        "1.2.3 h"}) {
    CAPTURE(text);
    CHECK_FALSE(hours_in(text));
  }
}

TEST_CASE("a time of day has 24 hours, or twelve in each half") {
  CHECK(minute_of_day_in("15:30") == 930);
  CHECK(minute_of_day_in("3:30 PM") == 930);
  CHECK(minute_of_day_in("3:30pm") == 930);
  CHECK(minute_of_day_in("3:30 p.m.") == 930);
  CHECK(minute_of_day_in("15") == 900);
  CHECK(minute_of_day_in("3 pm") == 900);
  CHECK(minute_of_day_in("3 am") == 180);
  CHECK(minute_of_day_in("7:05") == 425);
  CHECK(minute_of_day_in("07:05 A.M.") == 425);
  CHECK(minute_of_day_in("0") == 0);
  CHECK(minute_of_day_in("24") == 1440);
  CHECK(minute_of_day_in("24:00") == 1440);
  // 12 PM is noon: common practice, no source.
  CHECK(minute_of_day_in("12 am") == 0);
  CHECK(minute_of_day_in("12:30 AM") == 30);
  CHECK(minute_of_day_in("12 pm") == 720);
  CHECK(minute_of_day_in("12:30 PM") == 750);
  CHECK(minute_of_day_in("11:59 pm") == 1439);
  for (const char* text : {"",      "pm",      "25",    "24:01",    "-1",      "3:5 pm", "3:60 pm",
                           "0 am",  "0:30 pm", "13 pm", "15:30 PM", "3 xm",    "3 p m",  "3:30:00",
                           "15.30", "1 5",     "noon",  "003",      "3 pm pm", "1:005"}) {
    CAPTURE(text);
    CHECK_FALSE(minute_of_day_in(text));
  }
}
