#include <catch2/catch.hpp>

#include <algorithm>

#include "weather/place_filter.hpp"

using namespace dullspell;

namespace {

std::vector<std::string> ids(const std::vector<const PlaceSummary*>& places) {
  std::vector<std::string> out;
  for (const PlaceSummary* place : places) out.push_back(place->id);
  return out;
}

SelectedPlaces chosen(const PlaceFilter& filter) {
  static const PlaceCatalogue catalogue(
      {"sites.tsv",
       "id\tsource_id\tname\tstate\tlatitude\tlongitude\televation_m\tutc_offset_"
       "h\trecord\tsource\n"
       "low\t1\tLow\t\t40\t-110\t100\t-7\tmeasured\tmade up\n"
       "high\t2\tHigh\t\t41\t-110\t2500\t-7\ttypical-year\tmade up\n"
       "fiji\t3\tFiji\t\t-17\t179\t10\t12\testimated\tmade up\n"
       "samoa\t4\tSamoa\t\t-14\t-172\t\t13\testimated\tmade up\n"},
      {"months.csv", ""});
  return select_places(catalogue, filter);
}

using Ids = std::vector<std::string>;

}  // namespace

TEST_CASE("without a filter all places are asked about") {
  CHECK(ids(chosen({}).places) == Ids{"low", "high", "fiji", "samoa"});
}

TEST_CASE("places are chosen by box, circle, elevation and kind") {
  PlaceFilter box;
  box.box = GeoBox{39, -111, 40, -109};
  CHECK(ids(chosen(box).places) == Ids{"low"});
  box.box = GeoBox{-20, 170, 0, -170};  // over the date line
  CHECK(ids(chosen(box).places) == Ids{"fiji", "samoa"});
  box.box = GeoBox{-20, -170, 0, 170};
  CHECK(chosen(box).places.empty());

  PlaceFilter circle;
  // A degree of latitude is 111.2 km on a sphere of 6371 km.
  circle.circle = Circle{{40.0, -110.0}, 112.0};
  CHECK(ids(chosen(circle).places) == Ids{"low", "high"});
  circle.circle->radius_km = 110.0;
  CHECK(ids(chosen(circle).places) == Ids{"low"});

  PlaceFilter band;
  band.elevation = ElevationBand{10, 100};
  CHECK(ids(chosen(band).places) == Ids{"low", "fiji"});
  CHECK(ids(chosen(band).unknown_elevation) == Ids{"samoa"});
  band.kind = RecordKind::measured;
  CHECK(ids(chosen(band).places) == Ids{"low"});
  CHECK(chosen(band).unknown_elevation.empty());
}
