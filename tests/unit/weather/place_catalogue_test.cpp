#include <cmath>
#include <sstream>
#include <string>
#include <vector>

#include "tests/support/input_text.hpp"
#include "tests/support/test_place.hpp"
#include "weather/place_catalogue.hpp"

namespace dullspell {
namespace {

using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

const std::string kSites =
    "# made up for tests\n"
    "id\tsource_id\tname\tstate\tlatitude\tlongitude\televation_m\tutc_offset_h\trecord\tsource\n"
    "lakeside-aa\t11\tLakeside\tAA\t45.0\t-110.0\t1200\t-7\ttypical-year\ta record\n"
    "lakeside-aa-west\t12\tLakeside West\tAA\t45.0\t-111.0\t\t-7\tmeasured\tanother\n"
    "dune-bb\t13\tDune\tBB\t33.5\t-115.0\t-40\t-8\ttypical-year\ta record\n";

std::string monthly_table(const std::vector<Place>& places) {
  std::ostringstream out;
  out << "# a comment\n";
  write_monthly_header(out);
  for (const Place& place : places) write_monthly_rows(out, place);
  return out.str();
}

Place with_id(Place place, const std::string& id) {
  place.id = id;
  return place;
}

PlaceCatalogue catalogue() {
  Place lakeside = with_id(place_with_spread(kContrastingMeans, 0.15), "lakeside-aa");
  for (MonthStatistics& month : lakeside.months) month.temp_mean_c = 7.25;
  const Place west = with_id(place_with_means(kContrastingMeans), "lakeside-aa-west");
  return PlaceCatalogue({"sites", kSites}, {"months", monthly_table({west, lakeside})});
}

TEST_CASE("The sites of a catalogue are read without their months") {
  const PlaceCatalogue places = catalogue();
  REQUIRE(places.places().size() == 3);
  const PlaceSummary* site = places.find("lakeside-aa");
  REQUIRE(site != nullptr);
  CHECK(site->source_id == "11");
  CHECK(site->name == "Lakeside");
  CHECK(site->state == "AA");
  CHECK(site->where.latitude_deg == 45.0);
  CHECK(site->elevation_m == 1200.0);
  CHECK(site->utc_offset_h == -7.0);
  CHECK(site->record == RecordKind::typical_year);
  CHECK(site->source == "a record");
  CHECK_FALSE(places.find("lakeside-aa-west")->elevation_m.has_value());
  CHECK(places.find("lakeside") == nullptr);
}

TEST_CASE("A place is put together from its site and its own months") {
  const auto place = catalogue().place("lakeside-aa");
  REQUIRE(place.has_value());
  CHECK(place->name == "Lakeside");
  CHECK(place->record == RecordKind::typical_year);
  CHECK(place->months[3].k_mean == kContrastingMeans[3]);
  CHECK(place->months[3].k_sd == 0.15);
  CHECK(place->months[3].temp_mean_c == 7.25);
  CHECK_THAT(place->months[0].temp_sd_c, WithinAbs(default_month(0, 45.0).temp_sd_c, 0.005));
  CHECK(place->months[0].k_persistence == 0.29);

  const auto west = catalogue().place("lakeside-aa-west");
  REQUIRE(west.has_value());
  CHECK_FALSE(west->months[3].k_sd.has_value());
  CHECK_FALSE(west->has_temperatures());
  CHECK_FALSE(catalogue().place("nowhere").has_value());
}

TEST_CASE("A site whose months are missing or not twelve is reported") {
  CHECK(message_of([] { catalogue().place("dune-bb"); }) ==
        "months: has 0 months of `dune-bb`; allowed: twelve\n"
        "  Make the table anew with `dullspell fit`.\n");
  std::string rows = monthly_table({with_id(place_with_means(kContrastingMeans), "dune-bb")});
  rows.erase(rows.rfind("dune-bb,12"));
  const PlaceCatalogue cut({"sites", kSites}, {"months", rows});
  CHECK_THAT(message_of([&] { cut.place("dune-bb"); }), Contains("has 11 months of `dune-bb`"));
}

TEST_CASE("A bad month is reported at its line of the whole table") {
  std::string rows = monthly_table({with_id(place_with_means(kContrastingMeans), "lakeside-aa"),
                                    with_id(place_with_means(kContrastingMeans), "dune-bb")});
  rows.replace(rows.find("dune-bb,2,"), 10, "dune-bb,x,");
  const PlaceCatalogue broken({"sites", kSites}, {"months", rows});
  // A comment, the header, twelve rows of the other site, January.
  CHECK_THAT(message_of([&] { broken.place("dune-bb"); }), Contains("months:16: month is `x`"));
}

TEST_CASE("A site's month that is stated twice does not stand for a missing one") {
  std::string rows = monthly_table({with_id(place_with_means(kContrastingMeans), "dune-bb")});
  rows.replace(rows.find("dune-bb,2,"), 10, "dune-bb,1,");
  const PlaceCatalogue doubled({"sites", kSites}, {"months", rows});
  CHECK_THAT(message_of([&] { doubled.place("dune-bb"); }), Contains("dune-bb"));
}

TEST_CASE("A broken table of sites is reported with its line") {
  const std::string typo = "wobbly-year";
  std::string sites = kSites;
  sites.replace(sites.rfind("typical-year"), 12, typo);
  CHECK(message_of([&] {
          read_sites({"sites", sites});
        }) ==
        "sites:5: record is `wobbly-year`; allowed: measured, typical-year, monthly-means or "
        "estimated\n"
        "     5 | dune-bb 13 Dune BB 33.5 -115.0 -40 -8 wobbly-year a record\n");
  CHECK_THAT(message_of([&] {
               read_sites({"sites", "id\tname\na\tb\n"});
             }),
             Contains("sites:1: has no column `source_id`"));
}

TEST_CASE("Places are sorted by their distance") {
  const PlaceCatalogue places = catalogue();
  const auto near = places.by_distance({45.0, -110.9});
  REQUIRE(near.size() == 3);
  CHECK(near[0].place->id == "lakeside-aa-west");
  CHECK(near[1].place->id == "lakeside-aa");
  CHECK(near[2].place->id == "dune-bb");
  CHECK_THAT(near[0].distance_km, WithinAbs(distance_km({45.0, -110.9}, {45.0, -111.0}), 1e-12));
  CHECK(near[0].distance_km < near[1].distance_km);
}

TEST_CASE("A mistyped or shortened id finds its place") {
  const PlaceCatalogue places = catalogue();
  CHECK(places.nearest_id("lakesid-aa") == "lakeside-aa");
  CHECK(places.nearest_id("dune") == "dune-bb");
  CHECK_FALSE(places.nearest_id("xyz").has_value());
  CHECK_FALSE(places.nearest_id("").has_value());
}

TEST_CASE("The built-in catalogue has sites with distinct ids and possible coordinates") {
  const auto& sites = PlaceCatalogue::built_in().places();
  CHECK(sites.size() > 400);
  for (const PlaceSummary& site : sites) {
    INFO(site.id);
    CHECK(PlaceCatalogue::built_in().find(site.id) == &site);
    CHECK(std::abs(site.where.latitude_deg) <= 90.0);
    CHECK(std::abs(site.where.longitude_deg) <= 180.0);
    // Zones of clocks follow the sun within three hours.
    CHECK(std::abs(site.utc_offset_h - site.where.longitude_deg / 15.0) < 3.0);
  }
}

TEST_CASE("Every built-in place has twelve months whose clearness can be modelled") {
  const PlaceCatalogue& built_in = PlaceCatalogue::built_in();
  for (const PlaceSummary& site : built_in.places()) {
    INFO(site.id);
    const auto place = built_in.place(site.id);
    REQUIRE(place.has_value());
    CHECK(place->has_temperatures());
    for (const MonthStatistics& month : place->months) {
      CHECK(month.k_mean >= 0.02);
      CHECK(month.k_mean <= 0.80);
      CHECK_NOTHROW(clearness_distribution(month));
    }
  }
}

}  // namespace
}  // namespace dullspell
