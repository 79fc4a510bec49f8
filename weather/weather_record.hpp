#pragma once

#include <array>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "weather/calendar.hpp"
#include "weather/place.hpp"

namespace dullspell {

/// Weather of one measured or typical day.
struct RecordedDay {
  Date date;  ///< typical years get dates of kTypicalYear
  std::optional<double> ghi_kwh_m2;
  std::optional<double> temp_max_c;
  std::optional<double> temp_min_c;
  std::optional<double> temp_mean_c;
  int line = 0;  ///< in the file, of the day's first value; 0 if unknown

  /// The stated mean, else (max + min) / 2.
  std::optional<double> mean_temperature_c() const;
};

constexpr int kTypicalYear = 2001;  // any year without a leap day

constexpr std::array<double, 24> kNoHours = [] {
  std::array<double, 24> hours{};
  for (double& hour : hours) hour = std::numeric_limits<double>::quiet_NaN();
  return hours;
}();

/// Irradiation of one day by clock hours of standard time, Wh/m2; NaN where missing.
struct RecordedHours {
  Date date;
  std::array<double, 24> ghi_wh_m2 = kNoHours;
};

/// What a reader or the quality control did with some of a record, for people.
struct RecordFinding {
  std::string what;  ///< "days with a clearness above 1: left out"
  int count = 0;     ///< days (or hours, as `what` says)
  int line = 0;      ///< of the first; 0 if it has none
};

/// One site's weather, as read.
struct WeatherRecord {
  std::string file;
  std::string site;  ///< id of the site in a file of several; may be empty
  std::string name;  ///< what the file calls the site; may be empty
  std::string source;
  std::optional<Coordinates> where;
  std::optional<double> elevation_m;
  std::optional<double> utc_offset_h;
  bool typical_year = false;         ///< months of different years put together
  std::vector<RecordedDay> days;     ///< in order of dates, each date once
  std::vector<RecordedHours> hours;  ///< of an hourly file, one entry a day; else empty
  std::vector<RecordFinding> findings;
  std::string ghi_column;  ///< of the file, for messages about its unit; may be empty
};

}  // namespace dullspell
