#pragma once

#include "weather/weather_record.hpp"

namespace dullspell {

/// Quality control of a record for the place `where`: takes out values that cannot be true and
/// appends a finding for each kind, with its count, the date and line of the first. Needs days in
/// order. Call it once.
///
/// Irradiation: left out where the clearness index is below 0 or above 1, where there is none at
/// all although the sun was up, and where the same value stands for 4 or more successive days
/// (longer where the file's rounding makes that likely); calendar months in another unit than the
/// rest are left out whole. Days with next to no sun above the air (below 30 Wh/m2) are not judged.
/// Temperatures: left out beyond -90..60 C, where the maximum is below the minimum, and where the
/// same value stands for 5 or more successive days; more than 25 K from both neighbours is only
/// noted. Hours of a day whose irradiation was left out become NaN. The thresholds are common
/// practice, no source, but for the unit ones: the factors between units.
///
/// Light in hours of night, in hourly records: a finding with the likely cause.
///
/// Throws InputError, with the likely cure, where the file as a whole is wrong: irradiation in
/// another unit, temperatures in degrees Fahrenheit or kelvin, maximum and minimum exchanged, times
/// not in standard time of the place by 1.5 h or more (3.5 h where the UTC offset is not known).
void check_quality(WeatherRecord& record, const Coordinates& where);

}  // namespace dullspell
