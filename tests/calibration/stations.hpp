#pragma once

#include <set>
#include <string>
#include <vector>

#include "weather/place.hpp"
#include "weather/weather_record.hpp"

namespace dullspell::calibration {

/// A measured record of many years.
struct Station {
  std::string name;
  Place frame;  ///< coordinates, offset, kind; no statistics
  std::vector<RecordedDay> days;

  /// Years of which at least 330 days have irradiation.
  std::vector<int> whole_years() const;

  /// The days of those years.
  std::vector<RecordedDay> days_of(const std::set<int>& years) const;
};

/// The stations of datasets/records with more than one measured year; `records` is that folder.
std::vector<Station> load_stations(const std::string& records);

/// A year put together from the most typical month of all years, judged by the clearness of its
/// days (least mean distance between the cumulative distributions: Finkelstein & Schafer 1971,
/// Biometrika 58:641).
std::vector<RecordedDay> typical_like_year(const Station& station);

}  // namespace dullspell::calibration
