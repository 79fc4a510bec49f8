#pragma once

#include "weather/input/source_text.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// Reads a TMY3 file (Wilcox & Marion 2008, NREL/TP-581-43156): a line with the station, a line
/// with the names of the columns, then hours by their end in local standard time. Uses GHI (W/m^2)
/// and Dry-bulb (C). A typical year, unless a calendar month comes in two years.
///
/// Throws InputError for a broken head or row and for dates and hours that do not exist. A file
/// with hours missing is read, with a finding.
WeatherRecord read_tmy3_csv(const SourceText& source);

}  // namespace dullspell
