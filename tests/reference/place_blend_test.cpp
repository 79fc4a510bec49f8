#include "weather/place_blend.hpp"

#include <array>
#include <map>
#include <string>

#include <catch2/catch.hpp>

#include "tests/support/reference_table.hpp"

using namespace dullspell;

namespace {

constexpr std::array kNames{
    "k_mean",       "k_sd",      "k_persistence",    "k_year_share",       "temp_mean_c",
    "temp_range_c", "temp_sd_c", "temp_persistence", "temp_k_correlation", "range_k_slope"};

std::size_t index_of(std::string_view name) {
  return static_cast<std::size_t>(std::find(kNames.begin(), kNames.end(), name) - kNames.begin());
}

Place place_of(const CsvTable& row) {
  const PlaceBlend& blend = PlaceBlend::built_in();
  if (!row.text(5).empty()) return blend.of_site(row.text(5));
  const double leave_out_km = row.required_number(4);
  return blend.at({row.required_number(1), row.required_number(2)}, row.number(3),
                  leave_out_km > 0.0 ? leave_out_km : -1.0);
}

}  // namespace

// Source: tests/reference/tables/place_blends.csv, whose head says by what it was made.
TEST_CASE("blends are those of an independent program") {
  const SourceText source = reference_table("place_blends.csv");
  std::vector<std::string> columns{"name",         "latitude", "longitude", "elevation_m",
                                   "leave_out_km", "own",      "statistic", "what"};
  for (int m = 1; m <= 12; ++m) columns.push_back("m" + std::to_string(m));
  CsvTable row(source, CsvDelimiter::comma, columns);
  std::map<std::string, Place> places;
  int rows = 0;
  while (row.next()) {
    const std::string name(row.text(0));
    if (!places.contains(name)) places.emplace(name, place_of(row));
    const std::string what(row.text(7)), statistic(row.text(6));
    CAPTURE(name, statistic, what);
    for (std::size_t m = 0; m < 12; ++m) {
      const Estimate& number = *places.at(name).months[m].estimates()[index_of(statistic)];
      const double found = what == "value" ? number.value : *number.standard_error;
      // The table's numbers and the model's constants are rounded to six digits.
      CHECK(found == Approx(row.required_number(8 + m)).epsilon(2e-4).margin(2e-5));
    }
    ++rows;
  }
  CHECK(rows == 47 * 9 * 2);
}
