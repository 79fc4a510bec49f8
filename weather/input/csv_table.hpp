#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "weather/input/source_text.hpp"

namespace dullspell {

enum class CsvDelimiter { comma, tab };

/// Where a table stands in its file, if not at its top with a header row of its own.
struct CsvLayout {
  int lines_before = 0;  ///< lines of something else above it
  std::string header;    ///< names of the columns of a file without a header row; empty: it has one
  int lines_left_out = 0;  ///< of its file, above those that the text holds
};

/// Reads a table with a header row, row by row. Blank lines and lines that begin with '#' are
/// skipped, columns may stand in any order, and columns that were not asked for are ignored. At
/// most 24 can be asked for.
class CsvTable {
 public:
  /// `required` columns must be in the header; `optional` ones may be absent. Cells are numbered in
  /// that order, required first. Throws InputError for a missing column. `source` must outlive
  /// this.
  CsvTable(const SourceText& source, CsvDelimiter delimiter, std::vector<std::string> required,
           std::vector<std::string> optional = {}, const CsvLayout& layout = {});
  ~CsvTable();
  CsvTable(const CsvTable&) = delete;
  CsvTable& operator=(const CsvTable&) = delete;

  /// Goes to the next row; false at the end. Throws InputError for a row with too few or many
  /// cells.
  bool next();

  bool has_column(std::size_t column) const;

  /// Text of a cell, without blanks around it; empty for an absent column.
  std::string_view text(std::size_t column) const;

  /// Number of a cell; nothing if it is empty. Throws InputError for anything but a finite number.
  std::optional<double> number(std::size_t column) const;

  /// The same where an empty cell is an error too.
  double required_number(std::size_t column) const;

  /// Line of the current row in the file, from 1.
  int line() const;

  /// Reports bad content in the current row.
  [[noreturn]] void fail(std::size_t column, std::string problem, std::string allowed,
                         std::string fix) const;

 private:
  struct Reader;
  std::unique_ptr<Reader> reader_;
};

}  // namespace dullspell
