#pragma once

#include <string>
#include <vector>

#include "weather/input/source_text.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// Reads a weather file of up to 512 MiB, "-" being standard input: EPW, TMY3 CSV, or hourly or
/// daily CSV with a header row (epw.hpp, tmy3_csv.hpp, hourly_csv.hpp, daily_csv.hpp), told apart
/// by the content. One record a site. Throws InputError for anything that cannot be used.
std::vector<WeatherRecord> read_weather_file(const std::string& path);

/// The same from a text.
std::vector<WeatherRecord> parse_weather_text(SourceText source);

/// One record of several files of one site, given in order of time; dates out of order or doubled
/// are treated as in one file. Findings name their file; days lose their line, which would not say
/// of which file. If some are hourly and some daily, the hours are dropped, with a finding. Throws
/// InputError for records of different sites or places, or a typical year among several records,
/// and std::invalid_argument for none.
WeatherRecord join_records(std::vector<WeatherRecord> records);

}  // namespace dullspell
