#pragma once

#include <cstddef>
#include <iterator>
#include <ostream>
#include <string>
#include <string_view>
#include <type_traits>

#include <fmt/format.h>

namespace dullspell {

/// Comma-separated values (RFC 4180), a heading and rows of as many cells: texts in double quotes
/// where they need them, numbers in the shortest form that reads back as the same.
class CsvWriter {
 public:
  /// `columns` are the names of the heading between commas; it may have been written already.
  CsvWriter(std::ostream& out, const std::string& columns, bool with_heading = true);

  /// The next cells of a row.
  template <class... Values>
  CsvWriter& cells(const Values&... values) {
    (cell(values), ...);
    return *this;
  }

  /// A number with so many digits after the point.
  CsvWriter& fixed(double value, int digits);

  /// Cells of what is not known.
  CsvWriter& empty(std::size_t count);

  /// Throws std::logic_error if the row's cells are not as many as the heading's.
  void end_row();

 private:
  template <class Value>
  void cell(const Value& value) {
    begin_cell();
    if constexpr (std::is_arithmetic_v<Value>) {
      fmt::format_to(std::back_inserter(row_), "{}", value);
    } else {
      add_text(value);
    }
  }

  void begin_cell();
  void add_text(std::string_view text);

  std::ostream* out_;
  std::size_t columns_;
  std::size_t cells_ = 0;
  std::string row_;
};

}  // namespace dullspell
