#include <cmath>
#include <map>
#include <string>

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
