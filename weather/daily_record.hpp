#pragma once

#include <map>
#include <string>
#include <vector>

#include "weather/weather_record.hpp"

namespace dullspell {

/// Days by site; a file without a site column has the single site "".
using DailyRecords = std::map<std::string, std::vector<RecordedDay>, std::less<>>;

/// The days of any weather file (records/record_file.hpp) by site, without what else it says.
DailyRecords read_daily_record_file(const std::string& path);

}  // namespace dullspell
