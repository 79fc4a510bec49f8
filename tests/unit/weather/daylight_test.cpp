#include "weather/daylight.hpp"

#include <chrono>
#include <vector>

#include <catch2/catch.hpp>

namespace dullspell {
namespace {

// The almanac's sun (Michalsky 1988, checked against the NREL algorithm in tests/reference) at a
// clock time of a date, degrees above the horizon.
double elevation_deg(Date date, const Coordinates& where, double clock_offset_h, double minute) {
  return sun_direction(days_since_j2000(date, minute / 60.0 - clock_offset_h), where.latitude_deg,
                       where.longitude_deg)
      .elevation_deg();
}

std::vector<ClockWindow> daylight_at(Date date, const Coordinates& where, double clock_offset_h) {
  return daylight(solar_day(date, where, clock_offset_h), where.latitude_deg);
}

constexpr double kUpperEdge_deg = -50.0 / 60.0;

TEST_CASE("The almanac's sun crosses the horizon within 3 minutes of sunrise and sunset") {
  int dates = 0;
  for (const double latitude : {-60.0, -33.9, 0.0, 25.8, 41.8, 60.0}) {
    const Coordinates where{latitude, -115.6};
    for (int day = 0; day < 365; day += 7) {
      const Date date = make_date(2027, 1, 1) + std::chrono::days{day};
      INFO("latitude " << latitude << ", " << iso_date(date));
      const auto sunny = daylight_at(date, where, -8.0);
      REQUIRE(sunny.size() == 1);
      CHECK(elevation_deg(date, where, -8.0, sunny[0].from_min - 3) < kUpperEdge_deg);
      CHECK(elevation_deg(date, where, -8.0, sunny[0].from_min + 3) > kUpperEdge_deg);
      CHECK(elevation_deg(date, where, -8.0, sunny[0].to_min - 3) > kUpperEdge_deg);
      CHECK(elevation_deg(date, where, -8.0, sunny[0].to_min + 3) < kUpperEdge_deg);
      ++dates;
    }
  }
  CHECK(dates == 6 * 53);
}

TEST_CASE("In the far north a December day is short, and one in June ends after midnight") {
  // Fairbanks, Alaska: 10:58 to 14:40 on 21 December, 02:57 to 00:47 on 21 June (from memory).
  const Coordinates fairbanks{64.84, -147.72};
  const auto december = daylight_at(make_date(2027, 12, 21), fairbanks, -9.0);
  REQUIRE(december.size() == 1);
  CHECK(december[0].from_min == Approx(10 * 60 + 58).margin(3));
  CHECK(december[0].to_min == Approx(14 * 60 + 40).margin(3));
  const auto june = daylight_at(make_date(2027, 6, 21), fairbanks, -8.0);
  REQUIRE(june.size() == 1);
  CHECK(june[0].from_min == Approx(2 * 60 + 57).margin(3));
  CHECK(june[0].to_min == Approx(47).margin(3));
}

TEST_CASE("Beyond the circle the sun stays up or stays away") {
  const Coordinates utqiagvik{71.29, -156.79};
  CHECK(daylight_at(make_date(2027, 12, 21), utqiagvik, -9.0).empty());
  const auto june = daylight_at(make_date(2027, 6, 21), utqiagvik, -8.0);
  REQUIRE(june.size() == 1);
  CHECK(june[0].length_min() == 1440);
  for (const double pole : {-90.0, 90.0}) {
    const auto day = daylight_at(make_date(2027, 6, 21), {pole, 0.0}, 0.0);
    CHECK(day.size() == (pole > 0.0 ? 1 : 0));
  }
}

}  // namespace
}  // namespace dullspell
