#pragma once

#include <string>
#include <vector>

#include "weather/place.hpp"
#include "weather/weather_record.hpp"

namespace dullspell::calibration {

/// A site with the hours of one typical year.
struct HourlySite {
  std::string name;
  Place place;  ///< fitted to the days of the record
  WeatherRecord record;
};

/// The hourly typical years of datasets/records; `records` is that folder.
std::vector<HourlySite> load_hourly_sites(const std::string& records);

}  // namespace dullspell::calibration
