#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "weather/input/csv_table.hpp"
#include "weather/input/source_text.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// How often something was met in a file, and where first.
struct LineCount {
  int count = 0;
  int line = 0;

  void add(int at_line) {
    if (count++ == 0) line = at_line;
  }
};

/// Appends "`one` or `many` + what" to the findings, by the count; nothing if the count is 0.
void add_finding(WeatherRecord& record, const LineCount& met, std::string_view one,
                 std::string_view many, std::string_view what);

/// What a column holds; decides which numbers stand for a missing value.
enum class CellKind { irradiation, celsius, fahrenheit };

/// A cell's number. Nothing for an empty cell, and nothing, counted in `coded`, for the marks of a
/// missing value that records use: NA, NaN, null, all nines (-99, -999.9, -9999; without the sign
/// only where no weather reaches them), -9900. Throws InputError for anything else that is no
/// finite number.
std::optional<double> measured_value(const CsvTable& table, std::size_t column, CellKind kind,
                                     LineCount& coded);

/// A whole number from 0, without sign or blanks.
std::optional<unsigned> whole_number(std::string_view text);

/// The date, if it exists and its year is from 1800 to 2100.
std::optional<Date> existing_date(unsigned year, unsigned month, unsigned day);

/// The same month and day in kTypicalYear; nothing for 29 February.
std::optional<Date> in_typical_year(Date date);

/// Cells of a line; commas inside double quotes do not part them, the quotes are taken off, and so
/// are blanks around a cell.
std::vector<std::string> split_line(std::string_view line);

/// Reports bad content of a line that is in no table.
[[noreturn]] void refuse_line(const SourceText& source, int line, std::string key,
                              std::string problem, std::string allowed, std::string fix);

/// A number of a header line, or InputError.
double header_number(const SourceText& source, int line, std::string_view key,
                     std::string_view text, double low, double high, std::string_view unit);

/// A text shortened for a message.
std::string shortened(std::string_view text);

/// Largest share of rows out of order or doubled that is mended; beyond it InputError.
constexpr double kMostMendedShare = 0.05;

/// Sorts days (and hours) by date and keeps the first of each date, with a finding for either
/// mend. Throws InputError if more than kMostMendedShare of the days are out of order or doubled.
void put_in_order(WeatherRecord& record, const SourceText& source);

/// Throws InputError if rows out of order (`unordered`) and given twice (`doubled`) are more than
/// kMostMendedShare of `rows`, else appends findings. `row` is "day" or "hour".
void report_order(WeatherRecord& record, const SourceText& source, const LineCount& unordered,
                  const LineCount& doubled, std::size_t rows, std::string_view row);

/// Appends the count of dates that have no row between the first and the last day, or of a typical
/// year's 365.
void report_gaps(WeatherRecord& record);

}  // namespace dullspell
