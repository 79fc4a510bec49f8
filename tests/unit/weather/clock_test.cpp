#include <catch2/catch.hpp>

#include "weather/clock.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;

double hours_of(const ClockWindow& window) {
  double sum = 0.0;
  for (int hour = 0; hour < 24; ++hour) sum += share_of_hour(window, hour);
  return sum;
}

TEST_CASE("A clock's text is read back, and nothing else is") {
  for (const int minute : {0, 59, 60, 450, 1439, 1440}) {
    CHECK(parse_clock_text(clock_text(minute)) == minute);
  }
  for (const char* text : {"", "7:30", "07:60", "24:01", "07.30", "07:3a", " 07:30", "07:300"}) {
    INFO(text);
    CHECK_FALSE(parse_clock_text(text));
  }
}

TEST_CASE("A window takes its minutes of the hours that it cuts") {
  const ClockWindow evening{17 * 60 + 15, 19 * 60 + 45};
  CHECK(share_of_hour(evening, 16) == 0.0);
  CHECK(share_of_hour(evening, 17) == 0.75);
  CHECK(share_of_hour(evening, 18) == 1.0);
  CHECK(share_of_hour(evening, 19) == 0.75);
  CHECK(share_of_hour(evening, 20) == 0.0);
}

TEST_CASE("A window inside one hour takes only its minutes") {
  CHECK(share_of_hour({600, 606}, 10) == 0.1);
  CHECK(hours_of({600, 606}) == 0.1);
}

TEST_CASE("A window that ends before it starts runs over midnight") {
  const ClockWindow night{22 * 60 + 30, 6 * 60 + 15};
  CHECK(night.length_min() == 7 * 60 + 45);
  CHECK(share_of_hour(night, 21) == 0.0);
  CHECK(share_of_hour(night, 22) == 0.5);
  CHECK(share_of_hour(night, 23) == 1.0);
  CHECK(share_of_hour(night, 0) == 1.0);
  CHECK(share_of_hour(night, 6) == 0.25);
  CHECK(share_of_hour(night, 7) == 0.0);
}

TEST_CASE("A night window whose ends share an hour leaves the gap between them out") {
  const ClockWindow nearly_all{12 * 60 + 45, 12 * 60 + 15};
  CHECK(share_of_hour(nearly_all, 12) == 0.5);
  CHECK(nearly_all.length_min() == 1410);
  CHECK_THAT(hours_of(nearly_all), WithinAbs(23.5, 1e-12));
}

TEST_CASE("The shares of all hours add up to the window's length") {
  for (const ClockWindow& window : {ClockWindow{0, 1}, ClockWindow{1, 1440}, ClockWindow{1439, 1},
                                    ClockWindow{1439, 1440}, ClockWindow{600, 599}, kWholeDay}) {
    INFO(window.from_min << " to " << window.to_min);
    CHECK_THAT(60.0 * hours_of(window), WithinAbs(window.length_min(), 1e-9));
  }
  CHECK(kWholeDay.length_min() == 1440);
}

TEST_CASE("Clock text has two digits for hours and minutes") {
  CHECK(clock_text(0) == "00:00");
  CHECK(clock_text(450) == "07:30");
  CHECK(clock_text(1439) == "23:59");
  CHECK(clock_text(1440) == "24:00");
}

}  // namespace
}  // namespace dullspell

TEST_CASE("windows are joined only where they overlap") {
  using dullspell::ClockWindow;
  const std::vector<ClockWindow> apart{{22 * 60, 7 * 60}, {12 * 60, 13 * 60}};
  const std::vector<ClockWindow> kept = dullspell::without_overlaps(apart);
  REQUIRE(kept.size() == 2);
  CHECK(kept[0].from_min == 22 * 60);
  CHECK(kept[0].to_min == 7 * 60);

  const std::vector<ClockWindow> joined = dullspell::without_overlaps({{660, 700}, {680, 710}});
  REQUIRE(joined.size() == 1);
  CHECK(joined[0].from_min == 660);
  CHECK(joined[0].to_min == 710);
}
