#include <algorithm>
#include <numeric>

#include "tests/support/reference_table.hpp"
#include "weather/diffuse_split.hpp"
#include "weather/extraterrestrial_radiation.hpp"
#include "weather/hourly_shape.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;

double sum(const std::array<double, 24>& shares) {
  return std::accumulate(shares.begin(), shares.end(), 0.0);
}

TEST_CASE("Hourly shares of total and diffuse irradiation agree with the table") {
  const int rows = for_each_row(
      "rt_rd.csv", {"ws_deg", "omega_deg", "r_t", "r_d"},
      [](double sunset_deg, double hour_angle_deg, double r_t, double r_d) {
        constexpr double kLastDigit = 1e-6;
        CHECK_THAT(total_share_of_hour(hour_angle_deg, sunset_deg), WithinAbs(r_t, kLastDigit));
        CHECK_THAT(diffuse_share_of_hour(hour_angle_deg, sunset_deg), WithinAbs(r_d, kLastDigit));
      });
  CHECK(rows == 46);
}

// Duffie & Beckman, Solar Engineering of Thermal Processes; printed answers from memory, within
// half of the last printed digit or one where the examples round on the way.

TEST_CASE(
    "Duffie & Beckman 2.13.1: the hour from 8 in Melbourne in January takes 0.076 of the day") {
  const double sunset_deg = sunset_hour_angle_deg(-38.0, cooper_declination_deg(17));
  CHECK_THAT(total_share_of_hour(-52.5, sunset_deg), WithinAbs(0.076, 0.0005));
}

TEST_CASE("Duffie & Beckman 2.13.2: the hour from 13 in Madison on 23 August brings 3.7 MJ") {
  const double sunset_deg = sunset_hour_angle_deg(43.0, cooper_declination_deg(235));
  CHECK_THAT(31.4 * total_share_of_hour(22.5, sunset_deg), WithinAbs(3.7, 0.05));
}

TEST_CASE("Duffie & Beckman 2.13.3: an average June hour from 10 in Madison in its parts") {
  const double sunset_deg = sunset_hour_angle_deg(43.0, cooper_declination_deg(162));
  const double r_t = total_share_of_hour(-22.5, sunset_deg);
  const double r_d = diffuse_share_of_hour(-22.5, sunset_deg);
  CHECK_THAT(r_t, WithinAbs(0.1085, 0.0006));  // 0.108 or 0.109, by the edition
  CHECK_THAT(r_d, WithinAbs(0.102, 0.0006));
}

TEST_CASE("Shares of the clock hours add up to one at every latitude, polar day included") {
  int polar_days = 0;
  for (const double latitude :
       {-90.0, -78.0, -67.0, -45.0, -33.9, 0.0, 23.4, 43.0, 60.0, 66.0, 68.0, 80.0, 90.0}) {
    for (const unsigned month : {1u, 3u, 4u, 6u, 9u, 12u}) {
      for (const double offset_h : {-7.0, 0.0, 5.5, 12.0}) {
        INFO("latitude " << latitude << ", month " << month << ", offset " << offset_h);
        const SolarDay day = solar_day(make_date(2027, month, 21), {latitude, 10.0}, offset_h);
        const DaylightShares shares = daylight_shares(day);
        if (day.sunset_hour_angle_deg == 0.0) {
          CHECK(sum(shares.total) == 0.0);
          CHECK(sum(shares.diffuse) == 0.0);
          continue;
        }
        polar_days += day.sunset_hour_angle_deg == 180.0;
        CHECK_THAT(sum(shares.total), WithinAbs(1.0, 1e-12));
        CHECK_THAT(sum(shares.diffuse), WithinAbs(1.0, 1e-12));
        CHECK(*std::min_element(shares.total.begin(), shares.total.end()) >= 0.0);
        CHECK(*std::min_element(shares.diffuse.begin(), shares.diffuse.end()) >= 0.0);
      }
    }
  }
  CHECK(polar_days > 20);
}

TEST_CASE("No hour gets light in polar night") {
  const DaylightShares shares =
      daylight_shares(solar_day(make_date(2027, 12, 21), {78.0, 15.6}, 1.0));
  CHECK(sum(shares.total) == 0.0);
  CHECK(sum(shares.diffuse) == 0.0);
}

TEST_CASE("Beam light gathers more around noon than diffuse light") {
  const DaylightShares shares =
      daylight_shares(solar_day(make_date(2027, 3, 21), {40.0, 0.0}, 0.0));
  CHECK(shares.total[12] > shares.diffuse[12]);
  CHECK(shares.total[7] < shares.diffuse[7]);
}

TEST_CASE("An hour that the sun cuts gets the formula's share for its sunlit part") {
  const SolarDay day = solar_day(make_date(2027, 3, 21), {45.0, 0.0}, 0.0);
  const DaylightShares shares = daylight_shares(day);
  const SunlitHour &cut = day.hours[6], &noon = day.hours[12];
  REQUIRE(cut.share > 0.2);
  REQUIRE(cut.share < 0.95);
  const double sunset_deg = day.sunset_hour_angle_deg;
  CHECK_THAT(shares.total[6] / shares.total[12],
             WithinAbs(cut.share * total_share_of_hour(cut.hour_angle_deg, sunset_deg) /
                           total_share_of_hour(noon.hour_angle_deg, sunset_deg),
                       1e-12));
  CHECK_THAT(shares.diffuse[6] / shares.diffuse[12],
             WithinAbs(cut.share * diffuse_share_of_hour(cut.hour_angle_deg, sunset_deg) /
                           diffuse_share_of_hour(noon.hour_angle_deg, sunset_deg),
                       1e-12));
}

TEST_CASE("At the equinox the shares follow the formulas without renormalising by much") {
  // Liu & Jordan's share integrates to one over the day; hourly middles leave less than 2 %.
  const SolarDay day = solar_day(make_date(2027, 3, 21), {45.0, 0.0}, 0.0);
  const DaylightShares shares = daylight_shares(day);
  for (const std::size_t hour : {9u, 12u, 15u}) {
    const double raw =
        diffuse_share_of_hour(day.hours[hour].hour_angle_deg, day.sunset_hour_angle_deg);
    CHECK_THAT(shares.diffuse[hour] / raw, WithinAbs(1.0, 0.02));
  }
}

}  // namespace
}  // namespace dullspell
