#include "weather/own_places.hpp"

#include <sstream>

#include <catch2/catch.hpp>

#include "tests/support/run_program.hpp"
#include "tests/support/test_place.hpp"
#include "weather/input/input_error.hpp"
#include "weather/place_file.hpp"

using namespace dullspell;
using namespace dullspell::test;
using Catch::Matchers::Contains;

namespace {

std::string place_text(const std::string& name, double latitude_deg) {
  Place place = place_with_means(kContrastingMeans);
  place.name = name;
  for (MonthStatistics& month : place.months) month.temp_mean_c = 8.0;
  place.where.latitude_deg = latitude_deg;
  std::ostringstream out;
  write_place_file(out, place);
  return out.str();
}

std::string error_of(const std::string& folder) {
  try {
    read_own_places(folder, "DULLSPELL_DATA", PlaceCatalogue::built_in());
  } catch (const InputError& error) {
    return error.what();
  }
  return "no error";
}

}  // namespace

TEST_CASE("place files of a folder are places by the names of their files") {
  const TemporaryFolder folder;
  folder.write("north-meadow.toml", place_text("North Meadow", 47.0));
  folder.write("far-beach.toml", place_text("Far Beach", 41.0));
  folder.write("notes.txt", "not a place");
  const PlaceCatalogue& built_in = PlaceCatalogue::built_in();
  const OwnPlaces own = read_own_places(folder.path(""), "DULLSPELL_DATA", built_in);
  REQUIRE(own.places.size() == 2);
  CHECK(own.places[0].id == "far-beach");

  const PlaceCatalogue all = built_in.with(own.places);
  CHECK(all.places().size() == built_in.places().size() + 2);
  const auto meadow = all.place("north-meadow");
  REQUIRE(meadow);
  CHECK(meadow->name == "North Meadow");
  CHECK(meadow->where.latitude_deg == 47.0);
  CHECK(meadow->months[0].k_mean.value == Approx(kContrastingMeans[0]).margin(5e-5));
  // Those of the tables are found as before, and the nearest is sought among all.
  const PlaceSummary& last = built_in.places().back();
  CHECK(all.place(last.id)->name == last.name);
  CHECK(all.by_distance(meadow->where).front().place->id == "north-meadow");
}

TEST_CASE("a folder of places that cannot serve is refused by name") {
  const TemporaryFolder folder;
  CHECK_THAT(error_of(folder.path("missing")),
             Contains("DULLSPELL_DATA") && Contains("missing") && Contains("cannot be read"));
  CHECK_THAT(error_of(folder.path("")), Contains("holds no place file") && Contains("fit"));
  folder.write("broken.toml", "latitude = 45.0\n");
  CHECK_THAT(error_of(folder.path("")), Contains("broken.toml"));
}

TEST_CASE("a place of one's own cannot take the name of a built-in one") {
  const TemporaryFolder folder;
  folder.write("daggett-ca.toml", place_text("Mine", 40.0));
  CHECK_THAT(error_of(folder.path("")),
             Contains("daggett-ca.toml") && Contains("built-in") && Contains("another name"));
}
