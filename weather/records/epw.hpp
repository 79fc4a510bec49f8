#pragma once

#include "weather/input/source_text.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// Reads an EPW file (Crawley, Hand & Lawrie 1999, Building Simulation '99, 81): eight header
/// lines, then rows of at least 14 cells by the end of their hour in local standard time. Uses dry
/// bulb (cell 7, C; 99.9 is missing) and global horizontal radiation (cell 14, Wh/m2; 9999 is
/// missing); several rows an hour are averaged.
///
/// The record is a typical year if months of different years were put together, or if each month
/// comes once and the head's source or comments name a typical year (TMY, IWEC, CWEC, WYEC, TRY..);
/// otherwise it keeps its dates.
///
/// Throws InputError for a broken head or row and for dates and hours that do not exist. A file
/// with fewer hours than its head announces is read, with a finding.
WeatherRecord read_epw(const SourceText& source);

}  // namespace dullspell
