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
  CHECK_THAT(place->months[0].temp_sd_c.value,
             WithinAbs(default_month(0, 45.0).temp_sd_c.value, 0.005));
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

TEST_CASE("Columns that a table of sites may have say more of a place") {
  const auto sites = read_sites(
      {"sites",
       "id\tsource_id\tname\tcountry\tstate\tlatitude\tlongitude\televation_m\tutc_offset_"
       "h\trecord\t"
       "record_years\ttemperatures\tsource\tlicence\tnote\n"
       "cove-cc\t1\tCove\tCC\t\t-20\t30\t\t2\tmeasured\t14.7\tyes\tan office\t\t\n"
       "port-cc\t2\tPort\tCC\t\t-21\t31\t\t2\testimated\t\tno\tsunshine\tsome terms\ta caveat\n"});
  REQUIRE(sites.size() == 2);
  CHECK(sites[0].country == "CC");
  CHECK(sites[0].record_years == 14.7);
  CHECK(sites[0].has_temperatures);
  CHECK(sites[0].licence.empty());
  CHECK(sites[1].record_years == 0.0);
  CHECK_FALSE(sites[1].has_temperatures);
  CHECK(sites[1].licence == "some terms");
  CHECK(sites[1].note == "a caveat");
  CHECK(read_sites({"sites", kSites})[0].has_temperatures);
  CHECK_THAT(message_of([] {
               read_sites({"sites",
                           "id\tsource_id\tname\tstate\tlatitude\tlongitude\televation_m\t"
                           "utc_offset_h\trecord\tsource\ttemperatures\n"
                           "a\t1\tA\t\t1\t2\t\t0\tmeasured\tx\tmaybe\n"});
             }),
             Contains("temperatures is `maybe`; allowed: yes or no"));
}

const std::string kFarSites =
    "id\tsource_id\tname\tstate\tlatitude\tlongitude\televation_m\tutc_offset_h\trecord\t"
    "record_years\ttemperatures\tsource\tlicence\tnote\n"
    "cove-cc\t1\tCove\t\t-20\t30\t\t2\tmeasured\t14.7\tyes\tan office\t\t\n"
    "port-cc\t2\tPort\t\t-21\t31\t\t2\testimated\t\tno\tsunshine\tsome terms\ta caveat\n";

PlaceCatalogue two_layers() {
  const Place lakeside = with_id(place_with_means(kContrastingMeans), "lakeside-aa");
  const std::string head =
      "id,month,k_mean,k_sd,temp_mean_c,k_persistence,k_year_share,temp_range_c,temp_sd_c,"
      "temp_persistence,temp_k_correlation,range_k_slope\n";
  std::string far = head;
  for (int m = 1; m <= 12; ++m)
    far += "cove-cc," + std::to_string(m) + ",0.5,0.1,20,0.3,0.05,8.5,,,,\n";
  for (int m = 1; m <= 12; ++m) far += "port-cc," + std::to_string(m) + ",0.6,0.1,,0.3,0.08,,,,,\n";
  return PlaceCatalogue(
      std::vector<PlaceLayer>{{{"sites", kSites}, {"months", monthly_table({lakeside})}},
                              {{"far sites", kFarSites}, {"far months", far}}});
}

TEST_CASE("A catalogue of layers finds each place's months in its own table") {
  const PlaceCatalogue places = two_layers();
  CHECK(places.places().size() == 5);
  CHECK(places.place("lakeside-aa")->months[0].k_mean == kContrastingMeans[0]);
  CHECK(places.place("cove-cc")->months[11].k_mean == 0.5);
  CHECK(places.place("port-cc")->months[0].k_mean == 0.6);
  CHECK_THAT(message_of([&] { places.place("dune-bb"); }), Contains("months: has 0 months"));
}

TEST_CASE("A place takes defaults for the details of temperature that its table leaves empty") {
  const PlaceCatalogue places = two_layers();
  const Place cove = *places.place("cove-cc");
  CHECK(cove.months[0].temp_range_c == 8.5);
  CHECK(cove.months[0].temp_sd_c == default_month(0, -20.0).temp_sd_c);
  CHECK(cove.months[0].temp_k_correlation == default_month(0, -20.0).temp_k_correlation);
  CHECK(cove.months[0].k_year_share == 0.05);
  CHECK(cove.defaults ==
        std::vector<std::string>{"how temperature varies from day to day and with the sky"});
  CHECK(cove.record_years == 14.7);
  CHECK(cove.years == "15 years");
  CHECK(cove.notes.empty());

  const Place port = *places.place("port-cc");
  CHECK_FALSE(port.has_temperatures());
  CHECK(port.months[0].temp_range_c == default_month(0, -21.0).temp_range_c);
  CHECK(port.defaults.size() == 2);
  CHECK(port.licence == "some terms");
  CHECK(port.notes == std::vector<std::string>{"a caveat"});
  CHECK(port.years.empty());

  CHECK(places.place("lakeside-aa")->defaults.empty());
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

}  // namespace
}  // namespace dullspell
