#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

#include "weather/angles.hpp"
#include "weather/extraterrestrial_radiation.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

double sunlit_hours(const SolarDay& day) {
  double sum = 0.0;
  for (const SunlitHour& hour : day.hours) sum += hour.share;
  return sum;
}

std::size_t brightest_hour(const SolarDay& day) {
  const auto it =
      std::max_element(day.hours.begin(), day.hours.end(),
                       [](const auto& a, const auto& b) { return a.cos_zenith < b.cos_zenith; });
  return static_cast<std::size_t>(it - day.hours.begin());
}

TEST_CASE("Sunlit parts of the clock hours add up to the length of the day") {
  for (const double latitude : {-90.0, -70.0, -66.4, -33.9, 0.0, 43.0, 60.0, 65.7, 70.0, 90.0}) {
    for (const unsigned month : {1u, 3u, 6u, 9u, 12u}) {
      for (const double offset_h : {-11.5, -7.0, 0.0, 5.75, 14.0}) {
        INFO("latitude " << latitude << ", month " << month << ", offset " << offset_h);
        const SolarDay day = solar_day(make_date(2027, month, 21), {latitude, -115.6}, offset_h);
        CHECK_THAT(sunlit_hours(day), WithinAbs(2.0 * day.sunset_hour_angle_deg / 15.0, 1e-9));
        for (const SunlitHour& hour : day.hours) {
          CHECK(hour.share >= 0.0);
          CHECK(hour.share <= 1.0 + 1e-12);
          CHECK(hour.cos_zenith >= 0.0);
          CHECK((hour.share > 0.0 || hour.cos_zenith == 0.0));
        }
      }
    }
  }
}

TEST_CASE("The middle of a sunlit part is where the sun's direction is taken") {
  const SolarDay day = solar_day(make_date(2027, 5, 21), {51.18, -115.57}, -6.0);
  int full = 0;
  for (std::size_t h = 0; h < 24; ++h) {
    const SunlitHour& hour = day.hours[h];
    if (hour.share <= 0.0) continue;
    INFO("hour " << h);
    CHECK_THAT(hour.cos_zenith, WithinAbs(cos_deg(hour.sun.zenith_deg), 1e-12));
    CHECK(hour.sun.zenith_deg < 90.0);
    if (hour.share < 1.0 - 1e-9) continue;
    ++full;
    CHECK_THAT(
        hour.hour_angle_deg,
        WithinAbs(15.0 * (static_cast<double>(h) + 0.5 + day.solar_minus_clock_h - 12.0), 1e-9));
  }
  CHECK(full == 15);  // 05:51 to 21:27 by this clock
}

TEST_CASE("The first and last sunlit parts touch sunrise and sunset") {
  const SolarDay day = solar_day(make_date(2027, 1, 21), {40.0, 0.0}, 0.0);
  const auto lit = [](const SunlitHour& hour) { return hour.share > 0.0; };
  const auto first = std::find_if(day.hours.begin(), day.hours.end(), lit);
  const auto last = std::find_if(day.hours.rbegin(), day.hours.rend(), lit);
  CHECK_THAT(first->hour_angle_deg - 7.5 * first->share,
             WithinAbs(-day.sunset_hour_angle_deg, 1e-9));
  CHECK_THAT(last->hour_angle_deg + 7.5 * last->share, WithinAbs(day.sunset_hour_angle_deg, 1e-9));
}

TEST_CASE("Solar time is clock time moved by longitude, offset and equation of time") {
  const Date date = make_date(2027, 2, 11);
  const SolarDay day = solar_day(date, {40.0, 30.0}, 1.0);
  const double eot_min = almanac_sun(days_since_j2000(date, 10.0)).equation_of_time_min;
  CHECK_THAT(eot_min, WithinAbs(-14.2, 0.1));  // the year's least, common knowledge of sundials
  CHECK_THAT(day.solar_minus_clock_h, WithinAbs(30.0 / 15.0 - 1.0 + eot_min / 60.0, 1e-12));
}

TEST_CASE("A clock that runs an hour ahead shifts the hours and nothing else") {
  const Date date = make_date(2027, 7, 4);
  const SolarDay winter_clock = solar_day(date, {44.0, -110.0}, -7.0);
  const SolarDay summer_clock = solar_day(date, {44.0, -110.0}, -6.0);
  CHECK(summer_clock.declination_deg == winter_clock.declination_deg);
  CHECK(summer_clock.extraterrestrial_wh_m2 == winter_clock.extraterrestrial_wh_m2);
  for (std::size_t h = 0; h < 23; ++h) {
    CHECK_THAT(summer_clock.hours[h + 1].share, WithinAbs(winter_clock.hours[h].share, 1e-9));
    CHECK_THAT(summer_clock.hours[h + 1].cos_zenith,
               WithinAbs(winter_clock.hours[h].cos_zenith, 1e-9));
  }
}

TEST_CASE("South of the equator days are short in June and the noon sun stands in the north") {
  const Coordinates cape{-33.9, 18.4};
  const SolarDay june = solar_day(make_date(2027, 6, 21), cape, 2.0);
  const SolarDay december = solar_day(make_date(2027, 12, 21), cape, 2.0);
  CHECK(sunlit_hours(june) < 10.0);
  CHECK(sunlit_hours(december) > 14.0);
  const SunDirection noon = june.hours[brightest_hour(june)].sun;
  CHECK(std::abs(wrap_to_180_deg(noon.azimuth_deg)) < 15.0);
}

TEST_CASE("In polar day every clock hour is sunlit, also the one over solar midnight") {
  // At offset 0 and longitude 7.5 E solar midnight falls into the middle of a clock hour.
  const SolarDay day = solar_day(make_date(2027, 6, 21), {78.0, 7.5}, 0.0);
  CHECK(day.sunset_hour_angle_deg == 180.0);
  for (const SunlitHour& hour : day.hours) {
    CHECK_THAT(hour.share, WithinAbs(1.0, 1e-9));
    CHECK(hour.cos_zenith > 0.15);  // the sun circles at 11 to 35 deg
  }
}

TEST_CASE("Near polar day the clock hour over midnight holds evening and morning light") {
  // The night is shorter than an hour and falls into the hour from 23:00 by this clock.
  const SolarDay day = solar_day(make_date(2027, 6, 21), {66.5, 7.5}, 0.0);
  REQUIRE(day.sunset_hour_angle_deg > 172.5);
  REQUIRE(day.sunset_hour_angle_deg < 180.0);
  for (std::size_t h = 0; h < 23; ++h) CHECK_THAT(day.hours[h].share, WithinAbs(1.0, 1e-9));
  const double night_h = (180.0 - day.sunset_hour_angle_deg) / 7.5;
  CHECK_THAT(day.hours[23].share, WithinAbs(1.0 - night_h, 1e-9));
  // The direction is that of the longer part, here the evening's: the sundial runs slow in June.
  CHECK(day.hours[23].hour_angle_deg > 165.0);
  CHECK(day.hours[23].hour_angle_deg < day.sunset_hour_angle_deg);
}

TEST_CASE("In polar night nothing is sunlit") {
  const SolarDay day = solar_day(make_date(2027, 12, 21), {78.0, 15.6}, 1.0);
  CHECK(day.sunset_hour_angle_deg == 0.0);
  CHECK(day.extraterrestrial_wh_m2 == 0.0);
  CHECK(sunlit_hours(day) == 0.0);
}

TEST_CASE("The day's irradiation above the air is the sum over its clock hours") {
  const Coordinates where{51.18, -115.57};
  const SolarDay day = solar_day(make_date(2027, 9, 10), where, -6.0);
  double sum = 0.0;
  for (int h = 0; h < 24; ++h) {
    const double from_deg = 15.0 * (h + day.solar_minus_clock_h - 12.0);
    sum += extraterrestrial_between_wh_m2(where.latitude_deg, day.declination_deg, day.e0, from_deg,
                                          from_deg + 15.0);
  }
  CHECK_THAT(day.extraterrestrial_wh_m2, WithinRel(sum, 1e-12));
  CHECK(day.extraterrestrial_wh_m2 ==
        extraterrestrial_of_date_wh_m2(make_date(2027, 9, 10), where));
}

TEST_CASE("Distances follow the great circle") {
  constexpr double kDegree_km = 6371.0 * kRadPerDeg;
  CHECK(distance_km({51.0, -115.0}, {51.0, -115.0}) == 0.0);
  CHECK_THAT(distance_km({0.0, 0.0}, {0.0, 1.0}), WithinRel(kDegree_km, 1e-9));
  CHECK_THAT(distance_km({60.0, 10.0}, {61.0, 10.0}), WithinRel(kDegree_km, 1e-9));
  CHECK_THAT(distance_km({0.0, 179.5}, {0.0, -179.5}), WithinRel(kDegree_km, 1e-9));
  CHECK_THAT(distance_km({90.0, 0.0}, {-90.0, 77.0}), WithinRel(180.0 * kDegree_km, 1e-9));
  CHECK(distance_km({40.0, -100.0}, {45.0, -90.0}) == distance_km({45.0, -90.0}, {40.0, -100.0}));
}

}  // namespace
}  // namespace dullspell
