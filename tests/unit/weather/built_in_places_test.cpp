#include <cmath>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <catch2/catch.hpp>

#include "weather/calendar.hpp"
#include "weather/input/csv_table.hpp"
#include "weather/place_catalogue.hpp"
#include "weather/place_climate.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::WithinRel;

const PlaceCatalogue& built_in() {
  return PlaceCatalogue::built_in();
}

std::string record_file(const std::string& name) {
  return std::string(DULLSPELL_SOURCE_DIR) + "/datasets/records/" + name;
}

double year_kwh_m2(const Place& place) {
  double sum = 0.0;
  for (int m = 0; m < 12; ++m) {
    const int days = days_in_month(make_date(2023, static_cast<unsigned>(m) + 1, 1));
    sum += days * place.months[static_cast<std::size_t>(m)].k_mean.value *
           mean_extraterrestrial_wh_m2(m, place.where) / 1000.0;
  }
  return sum;
}

TEST_CASE("The built-in catalogue has sites with distinct ids and possible coordinates") {
  const auto& sites = built_in().places();
  CHECK(sites.size() > 800);
  std::map<RecordKind, int> kinds;
  std::set<std::string> ids, countries;
  for (const PlaceSummary& site : sites) {
    INFO(site.id);
    CHECK(ids.insert(site.id).second);
    CHECK(built_in().find(site.id) == &site);
    CHECK(std::abs(site.where.latitude_deg) <= 90.0);
    CHECK(std::abs(site.where.longitude_deg) <= 180.0);
    CHECK(site.country.size() == 2);
    CHECK_FALSE(site.source.empty());
    ++kinds[site.record];
    countries.insert(site.country);
  }
  CHECK(kinds[RecordKind::measured] > 40);
  CHECK(kinds[RecordKind::typical_year] > 480);
  CHECK(kinds[RecordKind::estimated] > 300);
  CHECK(countries.size() > 130);
}

TEST_CASE("Clocks of built-in places follow the sun within two and a half hours") {
  for (const PlaceSummary& site : built_in().places()) {
    INFO(site.id);
    CHECK(std::abs(site.utc_offset_h - site.where.longitude_deg / 15.0) < 2.5);
  }
  // Civil standard times, from memory.
  const std::pair<const char*, double> clocks[] = {
      {"whitehorse-yt", -7}, {"gander-nl", -3.5},     {"saskatoon-sk", -6},
      {"graz-at", 1},        {"cork-airport-ie", 0},  {"alice-springs-au", 9.5},
      {"brisbane-au", 10},   {"perth-airport-au", 8}, {"norfolk-island-au", 11}};
  for (const auto& [id, hours] : clocks) {
    INFO(id);
    CHECK(built_in().find(id)->utc_offset_h == hours);
  }
}

TEST_CASE("Every built-in place has twelve months that can be modelled", "[long]") {
  for (const PlaceSummary& site : built_in().places()) {
    INFO(site.id);
    const auto place = built_in().place(site.id);
    REQUIRE(place.has_value());
    CHECK(place->record_years == site.record_years);
    for (const MonthStatistics& month : place->months) {
      CHECK(month.k_mean.value >= 0.02);
      CHECK(month.k_mean.value <= 0.80);
      CHECK(month.k_persistence.value >= -0.3);
      CHECK(month.k_persistence.value <= 0.8);
      CHECK(month.k_year_share.value > 0.0);
      CHECK(month.temp_range_c.value > 0.0);
      CHECK(month.temp_mean_c.has_value() == site.has_temperatures);
      CHECK_NOTHROW(clearness_distribution(month));
    }
    REQUIRE_NOTHROW(PlaceClimate(*place));
    const PlaceClimate climate(*place);
    for (const unsigned month : {1u, 4u, 7u, 10u}) {
      CHECK_NOTHROW(climate.on(make_date(2027, month, 15)));
    }
  }
}

TEST_CASE("The kind of record and its years belong together") {
  for (const PlaceSummary& site : built_in().places()) {
    INFO(site.id);
    switch (site.record) {
      case RecordKind::measured:
        CHECK(site.record_years >= 1.0);
        break;
      case RecordKind::typical_year:
        CHECK(site.record_years == 1.0);
        break;
      case RecordKind::monthly_means:
      case RecordKind::estimated:
        CHECK(site.record_years == 0.0);
        break;
      case RecordKind::blended:
        FAIL_CHECK("no site is made of others");
    }
    // What is not estimated knows temperatures, but for one record without daily minima.
    if (site.record != RecordKind::estimated) {
      CHECK(site.has_temperatures == (site.id != "budapest-hu"));
    }
  }
}

TEST_CASE("Estimated cities carry their terms and caveats, and lie far from better places") {
  int cities = 0;
  for (const PlaceSummary& city : built_in().places()) {
    if (city.licence.empty()) continue;
    INFO(city.id);
    ++cities;
    CHECK(city.record == RecordKind::estimated);
    CHECK_FALSE(city.has_temperatures);
    CHECK(city.licence.find("CC BY-SA 4.0") != std::string::npos);
    CHECK(city.note.find("by a regression") != std::string::npos);
    for (const PlaceSummary& other : built_in().places()) {
      if (other.licence.empty()) CHECK(distance_km(city.where, other.where) > 30.0);
    }
  }
  CHECK(cities > 300);
}

TEST_CASE("Clearness of the built-in places stands for the irradiation that their records print",
          "[long]") {
  struct Record {
    const char* file;
    const char* ghi;
    std::vector<std::string> id;
  };
  const Record records[] = {
      {"canada_monthly.tsv", "ghi_kwh_m2_d", {"id"}},
      {"world_monthly.tsv", "ghi_kwh_m2_d", {"id"}},
      {"world_cities_estimated.tsv", "ghi_est_kwh_m2_d", {"city", "country"}}};
  std::map<std::string, const PlaceSummary*> by_record;
  for (const PlaceSummary& site : built_in().places()) {
    by_record[site.country == "CA" && site.licence.empty() ? site.id : site.source_id] = &site;
  }
  int places = 0;
  for (const Record& record : records) {
    std::vector<std::string> columns{"month", record.ghi};
    columns.insert(columns.end(), record.id.begin(), record.id.end());
    const SourceText text = read_source(record_file(record.file), "record", 1 << 20);
    CsvTable table(text, CsvDelimiter::tab, columns);
    std::map<std::string, double> year_kwh;
    while (table.next()) {
      std::string id(table.text(2));
      if (record.id.size() > 1) id += ", " + std::string(table.text(3));
      const auto month = static_cast<unsigned>(table.required_number(0));
      year_kwh[id] += days_in_month(make_date(2023, month, 1)) * table.required_number(1);
    }
    for (const auto& [id, kwh] : year_kwh) {
      const auto site = by_record.find(id);
      if (site == by_record.end()) continue;  // a city near a better place
      INFO(id);
      ++places;
      // A mean of daily ratios is not the ratio of the means, and the records' sun is Spencer's.
      CHECK_THAT(year_kwh_m2(*built_in().place(site->second->id)), WithinRel(kwh, 0.02));
    }
  }
  CHECK(places == 40 + 49 + 305);
}

TEST_CASE("A year's irradiation of well-known places has the right magnitude") {
  // kWh/m2 a year on the horizontal plane, rounded, from memory of solar atlases.
  const std::pair<const char*, double> known[] = {{"graz-at", 1250},     {"oslo-no", 950},
                                                  {"de-bilt-nl", 1040},  {"perpignan-fr", 1550},
                                                  {"sion-ch", 1450},     {"cairo-eg", 2050},
                                                  {"calgary-ab", 1350},  {"alice-springs-au", 2250},
                                                  {"reykjavik-is", 780}, {"singapore-sg", 1630}};
  for (const auto& [id, kwh] : known) {
    INFO(id);
    CHECK_THAT(year_kwh_m2(*built_in().place(id)), WithinRel(kwh, 0.10));
  }
}

}  // namespace
}  // namespace dullspell
