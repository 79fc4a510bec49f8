#include "reports/places_document.hpp"

#include <sstream>

#include <catch2/catch.hpp>

#include "reports/text_renderer.hpp"
#include "tests/support/any_width.hpp"

using namespace dullspell;
using namespace dullspell::test;
using Catch::Matchers::Contains;

namespace {

const PlaceCatalogue& catalogue() {
  return PlaceCatalogue::built_in();
}

std::vector<NearbyPlace> nearest(std::size_t count) {
  auto places = catalogue().by_distance({41.8, -124.1});
  places.resize(count);
  return places;
}

}  // namespace

TEST_CASE("a list of places fits any window, ids and distances always there") {
  check_any_width(
      [](std::ostream& out, TextStyle style) {
        write_text(out, places_document(nearest(10), {}, Distances::shown, Units::metric), style);
      },
      {"crescent-city-ca", "  91 km", "10 places: 1 measured, 9"});
}

TEST_CASE("distances between places are in the reader's units") {
  std::ostringstream metric, us;
  write_text(metric, places_document(nearest(2), {}, Distances::shown));
  write_text(us, places_document(nearest(2), {}, Distances::shown, Units::us));
  CHECK_THAT(metric.str(), Contains("arcata-ca         91 km"));
  // 90.8 km over 1.609 km a mile.
  CHECK_THAT(us.str(), Contains("arcata-ca         56 mi") && !Contains(" km"));
}

TEST_CASE("a list without distances has none") {
  std::ostringstream out;
  write_text(out, places_document(nearest(2), {}, Distances::left_out));
  CHECK_THAT(out.str(), !Contains("away") && !Contains("km"));
}

TEST_CASE("a place's months fit any window, in the reader's units") {
  Place place = *catalogue().place("reno-nv");
  place.elevation_m = 1341.0;
  check_any_width(
      [&](std::ostream& out, TextStyle style) {
        write_text(out, place_document(place, Units::metric), style);
      },
      {"Reno, NV", "1341 m", "  Jan        0.534", "\n  Dec"});
  place.months[0].temp_mean_c = -5.0;
  place.months[0].temp_range_c = 10.0;
  std::ostringstream metric, us;
  write_text(metric, place_document(place));
  write_text(us, place_document(place, Units::us));
  CHECK_THAT(metric.str(), Contains("-5.0 °C") && Contains("10.0 K"));
  // 0.3048 m to the foot; 1.8 degrees Fahrenheit to one Celsius, 32 at its zero.
  CHECK_THAT(us.str(), Contains("4400 ft") && Contains("23.0 °F") && Contains("18.0 °F"));
}
