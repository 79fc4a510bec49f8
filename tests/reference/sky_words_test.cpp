#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <map>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "tests/support/batch_mean.hpp"
#include "tests/support/daily_records.hpp"
#include "weather/known_sky.hpp"
#include "weather/place_catalogue.hpp"
#include "weather/solar_day.hpp"

using namespace dullspell;

// Words for a day's sky against 462 typical years (datasets/records/typical_daily_us.csv, NREL TMY3
// daily sums, US public domain). What a word means is common practice, no source; here every day
// gets the word whose clearness is nearest, and the words' figures must lie amid their days.

TEST_CASE("the words for a sky share the days of typical years out among them") {
  std::map<std::string, const PlaceSummary*> sites;
  const PlaceCatalogue& catalogue = PlaceCatalogue::built_in();
  for (const PlaceSummary& site : catalogue.places()) sites[site.source_id] = &site;

  struct Class {
    double days = 0.0, off = 0.0, squares = 0.0, spread = 0.0;
  };
  std::map<SkyWord, Class> classes;
  double days = 0.0;
  const auto records =
      read_daily_record_file(DULLSPELL_SOURCE_DIR "/datasets/records/typical_daily_us.csv");
  for (const auto& [id, record] : records) {
    const auto site = sites.find(id);
    // Beyond 60 degrees winter days are too short to have a clearness worth the name.
    if (site == sites.end() || std::abs(site->second->where.latitude_deg) > 60.0) continue;
    const Place place = *catalogue.place(site->second->id);
    for (const RecordedDay& day : record) {
      if (!day.ghi_kwh_m2) continue;
      const double k =
          1000.0 * *day.ghi_kwh_m2 / extraterrestrial_of_date_wh_m2(day.date, place.where);
      const double k_mean =
          place.months[static_cast<std::size_t>(month_index(day.date))].k_mean.value;
      SkyWord nearest = SkyWord::clear;
      for (const SkyWord word : {SkyWord::mixed, SkyWord::overcast}) {
        if (std::abs(stated_clearness(word, k_mean).k - k) <
            std::abs(stated_clearness(nearest, k_mean).k - k)) {
          nearest = word;
        }
      }
      const StatedClearness stated = stated_clearness(nearest, k_mean);
      Class& c = classes[nearest];
      ++c.days;
      ++days;
      c.off += k - stated.k;
      c.squares += (k - stated.k) * (k - stated.k);
      c.spread = stated.k_spread;
    }
  }
  REQUIRE(days > 150'000.0);
  for (auto& [word, c] : classes) {
    CAPTURE(to_string(word), c.days / days);
    CHECK(c.days / days > 0.15);
    // A word is off the mean of its days by less than half its spread, and admits no less than they
    // spread.
    const double off = c.off / c.days;
    CHECK(std::abs(off) < 0.5 * c.spread);
    CHECK(std::sqrt(c.squares / c.days - off * off) < c.spread);
  }
}

// Days of rain at Davis, California, 1994 to 2018
// (datasets/records/us_ca_davis.csv, from daily station data; its rain in mm). The word's figure
// must lie between the medians of days with 10 to 20 mm and of days with more.
TEST_CASE("a day of rain is as dull as wet days of a measured record") {
  std::ifstream file(DULLSPELL_SOURCE_DIR "/datasets/records/us_ca_davis.csv");
  std::string line;
  std::getline(file, line);
  REQUIRE(line == "date,ghi_kwh_m2,tmax_c,tmin_c,rain_mm");
  std::vector<double> wet, wettest;
  while (std::getline(file, line)) {
    int year = 0, month = 0, day = 0;
    double ghi = 0.0, warmest = 0.0, coldest = 0.0, rain_mm = 0.0;
    if (std::sscanf(line.c_str(), "%d-%d-%d,%lf,%lf,%lf,%lf", &year, &month, &day, &ghi, &warmest,
                    &coldest, &rain_mm) != 7) {
      continue;
    }
    const double k = 1000.0 * ghi /
                     extraterrestrial_of_date_wh_m2(
                         make_date(year, static_cast<unsigned>(month), static_cast<unsigned>(day)),
                         {38.54, -121.78});
    if (rain_mm >= 20.0) {
      wettest.push_back(k);
    } else if (rain_mm >= 10.0) {
      wet.push_back(k);
    }
  }
  REQUIRE(wet.size() > 200);
  REQUIRE(wettest.size() > 100);
  const auto median = [](std::vector<double>& values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
  };
  const StatedClearness rain = stated_clearness(SkyWord::rain, 0.5);
  CHECK(rain.k < median(wet));
  CHECK(rain.k > median(wettest));
}
