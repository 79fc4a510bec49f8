#pragma once

#include "weather/records/quality/judged_days.hpp"

namespace dullspell {

// The steps of check_quality(), in its order. Each takes out what cannot be true and adds findings;
// each throws InputError where the file as a whole is wrong.

/// Irradiation in another unit, of the whole file or of single months.
void check_units(WeatherRecord& record, const JudgedDays& days);

/// Hours that are not in standard time of the place.
void check_clock(WeatherRecord& record, const JudgedDays& days, const Coordinates& where);

/// Days whose irradiation cannot be.
void check_irradiation(WeatherRecord& record, const JudgedDays& days);

/// Temperatures in another unit, beyond what the air can be, exchanged or stuck.
void check_temperatures(WeatherRecord& record);

}  // namespace dullspell
