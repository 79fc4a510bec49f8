#pragma once

#include <vector>

#include "weather/input/source_text.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// Reads daily weather with a header row; one record a site, in order of their first rows.
///
/// Dates: `date` (2020-01-31), or `year`, `month` and `day`; or `month` and `day` alone for a
/// typical year. Irradiation: one of `ghi_kwh_m2`, `ghi_mj_m2`, `ghi_wh_m2` (the day's sum) and
/// `ghi_w_m2` (the day's mean). Optional: the site as `id` or `wban`; `temp_max_c` or `tmax_c`,
/// `temp_min_c` or `tmin_c`, `temp_mean_c` or `tmean_c`, or with `_f` for degrees Fahrenheit.
/// Empty cells and the usual marks of missing values (record_cells.hpp) are missing values.
///
/// Throws InputError for missing columns, dates that do not exist, cells that are no numbers, and
/// rows that are mostly out of order or doubled.
std::vector<WeatherRecord> read_daily_csv(const SourceText& source);

}  // namespace dullspell
