#pragma once

#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace dullspell {

/// How a risk stands to the one that is accepted, for colours beside words, never in their place.
enum class Tone { plain, holds, close, fails };

/// A column of a table; the first one of a table names its rows.
struct Column {
  enum class Align { left, right };

  std::string head;
  Align align = Align::right;
  /// Where a table is too wide the column with the greatest rank goes first; 0 is always there.
  int rank = 0;
};

/// A share and how far up it may lie, 0..1, drawn as a bar beside its row.
struct ShareBar {
  double share = 0.0;
  double high = 0.0;
};

struct TableRow {
  std::vector<std::string> cells;  ///< one a column; fewer leave the rest empty
  std::optional<ShareBar> bar = {};
  Tone tone = Tone::plain;
};

/// A table as terminals and pages both show it.
struct Table {
  std::string id;  ///< of its element in a page: letters, digits, hyphens
  std::string title;
  std::vector<Column> columns;
  std::vector<TableRow> rows;
  std::string legend = {};
  /// Columns of a greater rank make way for bars, and for names of up to a line beside them.
  int bars_rank = std::numeric_limits<int>::max();
  std::string bars_legend = {};  ///< what they show, said where they are drawn
};

/// A row with a single cell heads those below it.
inline bool heads_a_group(const TableRow& row) {
  return row.cells.size() == 1;
}

}  // namespace dullspell
