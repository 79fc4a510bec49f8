#include "tests/calibration/hourly_sites.hpp"

#include <array>

#include "weather/place_fit.hpp"
#include "weather/records/record_file.hpp"

namespace dullspell::calibration {
namespace {

struct SiteRow {
  const char* name;
  const char* file;
  Coordinates where;
  double utc_offset_h;
};

// Coordinates and offsets as the files' heads state them.
constexpr std::array<SiteRow, 8> kSites{{
    {"Miami FL", "hourly_us_fl_miami.csv", {25.817, -80.300}, -5},
    {"Tucson AZ", "hourly_us_az_tucson.csv", {32.13, -110.95}, -7},
    {"Daggett CA", "hourly_us_ca_daggett.csv", {34.850, -116.800}, -8},
    {"Moab UT", "hourly_us_ut_moab.csv", {38.580, -109.540}, -7},
    {"South Lake Tahoe CA", "tmy3_725847_south_lake_tahoe.csv", {38.900, -120.000}, -8},
    {"Denver CO", "hourly_us_co_denver.csv", {39.83, -104.65}, -7},
    {"Crescent City CA", "hourly_us_ca_crescent_city.csv", {41.783, -124.233}, -8},
    {"Port Angeles WA", "tmy3_727885_port_angeles.epw", {48.12, -123.50}, -8},
}};

}  // namespace

std::vector<HourlySite> load_hourly_sites(const std::string& records) {
  std::vector<HourlySite> sites;
  for (const SiteRow& row : kSites) {
    WeatherRecord record = read_weather_file(records + "/" + row.file).front();
    Place frame;
    frame.name = row.name;
    frame.where = row.where;
    frame.utc_offset_h = row.utc_offset_h;
    frame.record = RecordKind::typical_year;
    Place place = fit_place(frame, record.days).place;
    sites.push_back({row.name, std::move(place), std::move(record)});
  }
  return sites;
}

}  // namespace dullspell::calibration
