#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "engine/guesses/shade_table.hpp"
#include "tests/support/engine_plan.hpp"
#include "weather/records/record_file.hpp"
#include "weather/solar_day.hpp"

using namespace dullspell;

// Watts on clear days against hours of sunlight on level ground from outside: NREL TMY3 hours
// (datasets/records/hourly_us_*.csv, US public domain). A panel that lies flat sees just that
// light. Its power by the common linear formula, -0.35 % per K of the cell from 25 C, the cell 25 K
// per 800 W/m2 above the air (NMOT 45 C): common practice, no source. No part of the engine's own
// way, from a clearness through an hourly curve and Huld's modules, is in it.

namespace {

struct Site {
  const char* file;
  const char* place;
};

constexpr Site kSites[] = {
    {"hourly_us_fl_miami.csv", "{ latitude = 25.817, longitude = -80.3 }\nutc_offset_h = -5"},
    {"hourly_us_az_tucson.csv", "{ latitude = 32.13, longitude = -110.95 }\nutc_offset_h = -7"},
    {"hourly_us_ca_daggett.csv", "{ latitude = 34.85, longitude = -116.8 }\nutc_offset_h = -8"},
    {"hourly_us_ut_moab.csv", "{ latitude = 38.58, longitude = -109.54 }\nutc_offset_h = -7"},
    {"hourly_us_co_denver.csv", "{ latitude = 39.83, longitude = -104.65 }\nutc_offset_h = -7"},
    {"hourly_us_ca_crescent_city.csv",
     "{ latitude = 41.783, longitude = -124.233 }\nutc_offset_h = -8"}};

Plan flat_panel(const Site& site, unsigned month) {
  return plan_of("arrive = 2027-" + std::to_string(100 + month).substr(1) +
                 "-15T12:00:00\nsummer_time = false\n[[camp]]\nnights = 1\nplace = " + site.place +
                 "\n[battery]\ncapacity_wh = 1000\n[[panels]]\nrated_w = 100\nlosses = 0\n"
                 "[[load]]\nname = \"lamp\"\nwatts = 5\n[guesses]\nharvest = 0\n");
}

double linear_watts(double light_w_m2, double air_c) {
  const double cell_c = air_c + light_w_m2 * 25.0 / 800.0;
  return 100.0 * light_w_m2 / 1000.0 * (1.0 - 0.0035 * (cell_c - 25.0));
}

}  // namespace

TEST_CASE("a flat panel shows at noon on clear days what measured light makes of it") {
  std::vector<double> off;  // of the table, over what measured light makes
  int within = 0;           // the table's doubt
  for (const Site& site : kSites) {
    const WeatherRecord record =
        read_weather_file(std::string(DULLSPELL_SOURCE_DIR "/datasets/records/") + site.file)
            .front();
    for (unsigned month = 1; month <= 12; ++month) {
      const Plan plan = flat_panel(site, month);
      const ShadeTable shade = shade_table(plan, 0, plan.arrive);
      const ShadedDay& clear = shade.day(SkyWord::clear);
      const auto noon = static_cast<std::size_t>(shade.best_hour);
      for (std::size_t i = 0; i < record.days.size(); ++i) {
        const RecordedDay& day = record.days[i];
        const bool near_date = month_index(day.date) + 1 == static_cast<int>(month) &&
                               std::abs(day_of_month(day.date) - 15) <= 7;
        if (!near_date || !day.ghi_kwh_m2) continue;
        const double k = 1000.0 * *day.ghi_kwh_m2 /
                         extraterrestrial_of_date_wh_m2(day.date, plan.camps[0].where);
        if (std::abs(k - clear.k) > 0.02) continue;
        // Noon lies between the day's mean and its warmest hour.
        const double air_c = 0.5 * (*day.mean_temperature_c() + *day.temp_max_c);
        const double watts = linear_watts(record.hours[i].ghi_wh_m2[noon], air_c);
        off.push_back(clear.open.watts[noon] / watts - 1.0);
        within += std::abs(clear.open.watts[noon] - watts) <= shade.doubt_w.front();
      }
    }
  }
  REQUIRE(off.size() > 150);
  std::sort(off.begin(), off.end());
  const double median = off[off.size() / 2];
  const double share = static_cast<double>(within) / static_cast<double>(off.size());
  CAPTURE(off.size(), median, share);
  // An hourly curve for all days fits the noons of clear ones to within a few percent.
  CHECK(median == Approx(0.0).margin(0.03));
  // Days as clear as the table's differ by less than days that are called clear.
  CHECK(share > 0.683);
}
