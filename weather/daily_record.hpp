#pragma once

#include <map>
#include <string>
#include <vector>

#include "weather/input/source_text.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// Daily records by site; a file without a site column has the single site "".
using DailyRecords = std::map<std::string, std::vector<RecordedDay>, std::less<>>;

/// Reads a daily CSV file with a header: ghi_kwh_m2; `date` (2020-01-31) or `month` and `day`;
/// optionally `id` or `wban` for the site, and temp_max_c, temp_min_c, temp_mean_c (or tmax_c,
/// tmin_c). Empty cells are missing values. Throws InputError for dates that do not exist, stand
/// out of order or twice, and for impossible values.
DailyRecords read_daily_records(const SourceText& source);

/// The same from a file of up to 512 MiB.
DailyRecords read_daily_record_file(const std::string& path);

}  // namespace dullspell
