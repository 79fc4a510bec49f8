#pragma once

#include <map>
#include <string>
#include <vector>

#include "weather/records/record_file.hpp"

namespace dullspell {

/// The days of a file by site; a file without a site column has the single site "".
using DailyRecords = std::map<std::string, std::vector<RecordedDay>, std::less<>>;

inline DailyRecords read_daily_record_file(const std::string& path) {
  DailyRecords records;
  for (auto& record : read_weather_file(path)) {
    records.emplace(std::move(record.site), std::move(record.days));
  }
  return records;
}

}  // namespace dullspell
