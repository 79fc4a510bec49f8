#include <algorithm>
#include <map>
#include <string>
#include <utility>

#include "tests/support/reference_table.hpp"
#include "weather/angles.hpp"
#include "weather/extraterrestrial_radiation.hpp"
#include "weather/solar_day.hpp"
#include "weather/sun_position.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

// The constant and the distance of Duffie & Beckman, Solar Engineering of Thermal Processes, 1.4.
constexpr double kHandbookConstant_w_m2 = 1367.0;
double handbook_e0(int day_of_year) {
  return 1.0 + 0.033 * cos_deg(360.0 * day_of_year / 365.0);
}

constexpr double kMJPerWh = 0.0036;

double handbook_day_mj_m2(double latitude_deg, int day_of_year) {
  return kMJPerWh * daily_extraterrestrial_wh_m2(latitude_deg, cooper_declination_deg(day_of_year),
                                                 handbook_e0(day_of_year), kHandbookConstant_w_m2);
}

double handbook_hour_wh_m2(double latitude_deg, int day_of_year, double solar_hour) {
  const double from_deg = 15.0 * (solar_hour - 12.0);
  return extraterrestrial_between_wh_m2(latitude_deg, cooper_declination_deg(day_of_year),
                                        handbook_e0(day_of_year), from_deg, from_deg + 15.0,
                                        kHandbookConstant_w_m2);
}

TEST_CASE("Daily irradiation above the air agrees with the table, polar day and night included") {
  double shortest_deg = 180.0, longest_deg = 0.0;
  const int rows =
      for_each_row("extraterrestrial_daily.csv",
                   {"lat_deg", "day_of_year", "sunset_hour_angle_deg", "H0_1361_spencer_Wh_m2",
                    "H0_numeric_Wh_m2", "H0_1367_cooper_DB_MJ_m2"},
                   [&](double latitude_deg, double day, double sunset_deg, double wh_m2,
                       double numeric_wh_m2, double mj_m2) {
                     const int n = static_cast<int>(day);
                     const double declination_deg = spencer_declination_deg(n);
                     constexpr double kLastDigit = 1e-4;
                     const double found = daily_extraterrestrial_wh_m2(
                         latitude_deg, declination_deg, spencer_e0(n), 1361.0);
                     CHECK_THAT(sunset_hour_angle_deg(latitude_deg, declination_deg),
                                WithinAbs(sunset_deg, kLastDigit));
                     CHECK_THAT(found, WithinAbs(wh_m2, kLastDigit));
                     // The table's numeric integral has an error of its own of 6e-5.
                     CHECK_THAT(found, WithinAbs(numeric_wh_m2, 2.0 * kLastDigit));
                     CHECK_THAT(handbook_day_mj_m2(latitude_deg, n), WithinAbs(mj_m2, kLastDigit));
                     shortest_deg = std::min(shortest_deg, sunset_deg);
                     longest_deg = std::max(longest_deg, sunset_deg);
                   });
  CHECK(rows == 156);
  CHECK(shortest_deg == 0.0);
  CHECK(longest_deg == 180.0);
}

TEST_CASE("Hourly irradiation above the air agrees with the table and adds up to the day") {
  std::map<std::pair<double, int>, double> sums_wh_m2;
  const int rows = for_each_row(
      "extraterrestrial_hourly.csv", {"lat_deg", "day_of_year", "solar_hour_start", "I0_Wh_m2"},
      [&](double latitude_deg, double day, double hour, double wh_m2) {
        const int n = static_cast<int>(day);
        const double found = handbook_hour_wh_m2(latitude_deg, n, hour);
        CHECK_THAT(found, WithinAbs(wh_m2, 1e-5));  // the last printed digit
        sums_wh_m2[{latitude_deg, n}] += found;
      });
  CHECK(rows == 144);
  REQUIRE(sums_wh_m2.size() == 6);
  for (const auto& [key, sum_wh_m2] : sums_wh_m2) {
    CHECK_THAT(kMJPerWh * sum_wh_m2, WithinRel(handbook_day_mj_m2(key.first, key.second), 1e-12));
  }
}

TEST_CASE("The program's own solar constant is that of Kopp & Lean 2011") {
  CHECK(daily_extraterrestrial_wh_m2(43.0, 9.4, 1.0) ==
        daily_extraterrestrial_wh_m2(43.0, 9.4, 1.0, 1361.0));
}

// Printed answers of Duffie & Beckman's examples, from memory; three digits are printed.
TEST_CASE("Duffie & Beckman 1.10.1 and 1.10.2: 15 April at 43 deg, the day and the hour from 10") {
  CHECK_THAT(handbook_day_mj_m2(43.0, 105), WithinRel(33.8, 0.003));
  CHECK_THAT(kMJPerWh * handbook_hour_wh_m2(43.0, 105, 10.0), WithinRel(3.79, 0.003));
}

TEST_CASE("A date's irradiation lies within 0.3 % of minute sums along the sun's true path") {
  // Minute sums with the NREL solar position algorithm over 2023, of the table's header; the
  // almanac's one declination a day stands for a whole day, which costs most at 60 deg in winter.
  struct Row {
    double latitude_deg;
    int day_of_year;
    double wh_m2;
  };
  for (const Row& row : {Row{43, 105, 9419.8}, Row{40, 47, 5810.6}, Row{-33.9, 17, 11945.1},
                         Row{60, 344, 654.7}, Row{70, 162, 11675.2}}) {
    INFO("latitude " << row.latitude_deg << ", day " << row.day_of_year);
    const Date date = make_date(2023, 1, 1) + std::chrono::days{row.day_of_year - 1};
    CHECK_THAT(extraterrestrial_of_date_wh_m2(date, {row.latitude_deg, 0.0}),
               WithinRel(row.wh_m2, 0.003));
  }
}

}  // namespace
}  // namespace dullspell
