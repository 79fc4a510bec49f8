#include <cmath>

#include "tests/support/reference_table.hpp"
#include "weather/angles.hpp"
#include "weather/diffuse_split.hpp"
#include "weather/extraterrestrial_radiation.hpp"
#include "weather/sun_position.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinAbs;

TEST_CASE("Hourly diffuse shares agree with the table on all three branches") {
  int dull = 0, clear = 0;
  const int rows =
      for_each_row("erbs_hourly.csv", {"kt_pvlib", "ghi_W_m2", "dhi_W_m2"},
                   [&](double clearness, double ghi, double dhi) {
                     // The clearness is printed to 5e-6 and the share falls by 2.4 per unit of it
                     // at most; no row lies that near to a branch point, where the branches differ
                     // by up to 1e-3.
                     REQUIRE(std::abs(clearness - 0.22) > 1e-5);
                     REQUIRE(std::abs(clearness - 0.80) > 1e-5);
                     CHECK_THAT(erbs_hourly_diffuse_share(clearness), WithinAbs(dhi / ghi, 1.3e-5));
                     dull += clearness < 0.22;
                     clear += clearness > 0.80;
                   });
  CHECK(rows == 192);
  CHECK(dull > 0);
  CHECK(clear > 0);
}

TEST_CASE("Daily diffuse shares agree with the table in both seasons") {
  const int rows = for_each_row("diffuse_daily_monthly.csv",
                                {"K", "erbs_daily_ws_le_81p4", "erbs_daily_ws_gt_81p4"},
                                [](double clearness, double winter, double summer) {
                                  constexpr double kLastDigit = 1e-5;
                                  for (const double sunset_deg : {20.0, 81.4}) {
                                    CHECK_THAT(erbs_daily_diffuse_share(clearness, sunset_deg),
                                               WithinAbs(winter, kLastDigit));
                                  }
                                  for (const double sunset_deg : {81.41, 180.0}) {
                                    CHECK_THAT(erbs_daily_diffuse_share(clearness, sunset_deg),
                                               WithinAbs(summer, kLastDigit));
                                  }
                                });
  CHECK(rows == 16);
}

TEST_CASE("Diffuse shares stay between 0.14 and 1 for every clearness") {
  for (int i = 0; i <= 1000; ++i) {
    const double clearness = i / 1000.0;
    INFO("clearness " << clearness);
    for (const double share :
         {erbs_hourly_diffuse_share(clearness), erbs_daily_diffuse_share(clearness, 70.0),
          erbs_daily_diffuse_share(clearness, 100.0)}) {
      CHECK(share <= 1.0);
      CHECK(share >= 0.14);
    }
  }
}

// Duffie & Beckman, Solar Engineering of Thermal Processes; printed answers from memory.
struct WorkedDay {
  double clearness;
  double diffuse_share;
};

WorkedDay worked_day(double latitude_deg, int day_of_year, double irradiation_mj_m2) {
  const double declination_deg = cooper_declination_deg(day_of_year);
  const double e0 = 1.0 + 0.033 * cos_deg(360.0 * day_of_year / 365.0);
  const double above_air_mj_m2 =
      0.0036 * daily_extraterrestrial_wh_m2(latitude_deg, declination_deg, e0, 1367.0);
  const double clearness = irradiation_mj_m2 / above_air_mj_m2;
  return {clearness, erbs_daily_diffuse_share(
                         clearness, sunset_hour_angle_deg(latitude_deg, declination_deg))};
}

TEST_CASE("Duffie & Beckman 2.11.1: a clear September day in St. Louis is 0.26 diffuse") {
  const WorkedDay day = worked_day(38.6, 246, 23.0);
  CHECK_THAT(day.clearness, WithinAbs(0.69, 0.005));
  CHECK_THAT(day.diffuse_share, WithinAbs(0.26, 0.01));  // read off a chart in the book
}

TEST_CASE("Duffie & Beckman 2.12.1: an average June day in Madison has the clearness 0.55") {
  // The book goes on with the monthly correlation (0.38), which this program has no use for.
  CHECK_THAT(worked_day(43.0, 162, 23.0).clearness, WithinAbs(0.55, 0.005));
}

}  // namespace
}  // namespace dullspell
