#pragma once

#include "weather/input/source_text.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// Reads hourly weather of one site with a header row, in standard time of the place.
///
/// Hours: `date` (2020-01-31) with `hour_ending` (1..24) or `hour_beginning` (0..23); or `time`
/// (2020-01-31T13:00, the hour that begins then). Irradiation: `ghi_w_m2` (the hour's mean) or
/// `ghi_wh_m2` (its sum). Optional: `temp_c` or `temp_f`. Days are made as HourCollector says.
///
/// Throws InputError for missing columns, dates and hours that do not exist, cells that are no
/// numbers, and rows that are mostly out of order or doubled.
WeatherRecord read_hourly_csv(const SourceText& source);

}  // namespace dullspell
