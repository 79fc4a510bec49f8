#include "reports/text_writer.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <ostream>
#include <sstream>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "reports/number_text.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kMargin = 2, kGap = 2;
constexpr std::size_t kLeastBar = 8, kMostBar = 24;
constexpr std::size_t kLeastName = 12, kLongestWord = 34, kNameBesideBar = 32;
constexpr std::string_view kBold = "1";

std::string_view code_of(Tone tone) {
  switch (tone) {
    case Tone::plain:
      return "";
    case Tone::holds:
      return "36";
    case Tone::close:
      return "33";
    case Tone::fails:
      return "31";
  }
  return "";
}

std::vector<std::string> lines_of(std::string_view text, std::size_t width) {
  std::istringstream in(wrapped(printable(text), width));
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) lines.push_back(std::move(line));
  if (lines.empty()) lines.emplace_back();
  return lines;
}

// The least width, from that of its cells on, at which a head takes two lines or as few as it can.
std::size_t column_width(const std::string& head, std::size_t cells) {
  std::size_t width = std::max({std::size_t{1}, cells, longest_word(head)});
  const std::size_t whole = display_width(head);
  while (width < whole && lines_of(head, width).size() > 2) ++width;
  return width;
}

// Which columns a table shows at a width, and how wide each is.
struct Layout {
  std::vector<std::size_t> columns, widths;
  std::vector<std::string> left_out;
  std::size_t bar = 0;
  bool names_above = false;  // each on a line of its own, since no room is left beside its figures

  std::size_t width() const {
    return std::accumulate(widths.begin(), widths.end(), kMargin) +
           kGap * (std::max<std::size_t>(1, widths.size()) - 1);
  }
};

// Heads in one line each, or broken over several.
enum class Heads { whole, broken };

Layout all_columns(const Table& table, Heads heads) {
  Layout out;
  for (std::size_t c = 0; c < table.columns.size(); ++c) {
    std::size_t cells = 0;
    for (const TableRow& row : table.rows) {
      if (c < row.cells.size() && !heads_a_group(row)) {
        cells = std::max(cells, display_width(row.cells[c]));
      }
    }
    const std::string& head = table.columns[c].head;
    out.columns.push_back(c);
    out.widths.push_back(heads == Heads::whole ? std::max(cells, display_width(head))
                                               : column_width(head, cells));
  }
  return out;
}

// Names are broken between words only, and what follows the first line is indented.
std::size_t least_name(const Table& table) {
  std::size_t least = kLeastName;
  for (const TableRow& row : table.rows) {
    if (heads_a_group(row)) continue;
    const std::string& name = row.cells.front();
    const std::size_t word = longest_word(name);
    const std::size_t indent = word < display_width(name) ? kGap : 0;
    least = std::max(least, std::min(word + indent, kLongestWord));
  }
  return least;
}

Layout layout_of(const Table& table, std::size_t width) {
  const std::size_t least = least_name(table);
  const bool bars =
      std::any_of(table.rows.begin(), table.rows.end(), [](const auto& r) { return r.bar; });
  const std::size_t with_bar = bars ? kGap + kLeastBar : 0;
  Layout out = all_columns(table, Heads::whole);
  if (out.width() + with_bar > width) out = all_columns(table, Heads::broken);
  const auto rest = [&] { return out.width() - out.widths.front(); };
  // Longer names are broken before a bar goes.
  const auto beside_bar = [&] {
    return rest() + std::min(out.widths.front(), kNameBesideBar) + with_bar;
  };
  while (true) {
    const auto rank = [&](std::size_t c) { return table.columns[c].rank; };
    const auto last = std::max_element(out.columns.begin(), out.columns.end(),
                                       [&](auto a, auto b) { return rank(a) <= rank(b); });
    const bool without_bar = beside_bar() > width && rank(*last) > table.bars_rank;
    const bool without_room = out.width() > width && rest() + least > width;
    if (rank(*last) == 0 || !(without_bar || without_room)) break;
    out.left_out.insert(out.left_out.begin(), table.columns[*last].head);
    out.widths.erase(out.widths.begin() + (last - out.columns.begin()));
    out.columns.erase(last);
  }
  // A head may stand over two columns, one of which is still there.
  std::erase_if(out.left_out, [&](const std::string& head) {
    return std::any_of(out.columns.begin(), out.columns.end(),
                       [&](auto c) { return table.columns[c].head == head; });
  });
  std::size_t& name = out.widths.front();
  const std::size_t room = bars && beside_bar() <= width ? width - with_bar : width;
  if (out.width() > room) name = std::max(std::min(name, least), room - std::min(room, rest()));
  if (out.width() > width) {
    out.names_above = true;
    name = width - std::min(width, rest());
  }
  if (bars && out.width() + with_bar <= width) {
    out.bar = std::min(kMostBar, width - out.width() - kGap);
  }
  return out;
}

Table printable_cells(Table table) {
  for (Column& column : table.columns) column.head = printable(column.head);
  for (TableRow& row : table.rows) {
    for (std::string& cell : row.cells) cell = printable(cell);
  }
  return table;
}

std::string cell_text(const Column& column, std::string_view text, std::size_t width) {
  return column.align == Column::Align::left ? left_aligned(text, width)
                                             : right_aligned(text, width);
}

std::string without_end_blanks(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line;
}

// The heads of the columns, which end together in the last line.
std::vector<std::string> head_lines(const Table& table, const Layout& layout) {
  std::vector<std::vector<std::string>> heads;
  std::size_t count = 0;
  for (std::size_t i = 0; i < layout.columns.size(); ++i) {
    const bool above = i == 0 && layout.names_above;
    heads.push_back(lines_of(above ? "" : table.columns[layout.columns[i]].head, layout.widths[i]));
    count = std::max(count, heads.back().size());
  }
  std::vector<std::string> out;
  for (std::size_t l = 0; l < count; ++l) {
    std::string line(kMargin, ' ');
    for (std::size_t i = 0; i < heads.size(); ++i) {
      const std::size_t above = count - heads[i].size();
      line += std::string(i == 0 ? 0 : kGap, ' ') + cell_text(table.columns[layout.columns[i]],
                                                              l < above ? "" : heads[i][l - above],
                                                              layout.widths[i]);
    }
    // Some blanks only kept the words of a head on one line.
    std::string text = replaced(without_end_blanks(line), "\u00A0", " ");
    if (!text.empty()) out.push_back(std::move(text));
  }
  return out;
}

// A row's cells, its bar if there is room for one, and what is left of a long name.
struct RowLines {
  std::string line, bar;
  std::vector<std::string> more_of_name;
};

RowLines row_lines(const Table& table, const Layout& layout, const TableRow& row) {
  const auto cell = [&](std::size_t i) -> std::string_view {
    const std::size_t c = layout.columns[i];
    return c < row.cells.size() ? std::string_view(row.cells[c]) : "";
  };
  std::vector<std::string> name{""};
  if (!layout.names_above) {
    // Broken names go on with an indent, which takes room from every line.
    name = lines_of(cell(0), layout.widths[0]);
    if (name.size() > 1) name = lines_of(cell(0), layout.widths[0] - kGap);
  }
  RowLines out;
  out.line = std::string(kMargin, ' ');
  for (std::size_t i = 0; i < layout.columns.size(); ++i) {
    if (i > 0) out.line += std::string(kGap, ' ');
    out.line += cell_text(table.columns[layout.columns[i]], i == 0 ? name.front() : cell(i),
                          layout.widths[i]);
  }
  if (layout.bar > 0 && row.bar) out.bar = bar_text(*row.bar, layout.bar);
  for (std::size_t l = 1; l < name.size(); ++l) {
    out.more_of_name.push_back(std::string(kMargin + kGap, ' ') + name[l]);
  }
  return out;
}

}  // namespace

std::size_t TextWriter::prose_width() const {
  return std::min(style_.width, TextStyle::kUsualWidth);
}

std::string TextWriter::painted(std::string_view text, std::string_view codes) const {
  if (!style_.colour || codes.empty() || text.empty()) return std::string(text);
  return fmt::format("\033[{}m{}\033[0m", codes, text);
}

void TextWriter::title(std::string_view text) {
  for (const auto& line : lines_of(text, prose_width())) {
    fmt::print(out_, "{}\n", painted(line, kBold));
  }
}

void TextWriter::heading(std::string_view text) {
  fmt::print(out_, "\n");
  title(text);
}

void TextWriter::paragraph(std::string_view text, std::size_t indent) {
  fmt::print(out_, "{}", wrapped(printable(text), prose_width(), indent));
}

void TextWriter::verdict(std::string_view raw, Tone tone) {
  const std::string text = printable(raw);
  std::string codes(kBold);
  if (const auto colour = code_of(tone); !colour.empty()) codes += fmt::format(";{}", colour);
  // The first sentence may end within a line: what it takes of each is counted in characters.
  std::size_t bold = std::min(text.find(". "), text.size() - 1) + 1;
  fmt::print(out_, "\n");
  for (const auto& line : lines_of(text, prose_width())) {
    const std::size_t here = std::min(bold, line.size());
    fmt::print(out_, "{}{}\n", painted(std::string_view(line).substr(0, here), codes),
               std::string_view(line).substr(here));
    bold -= std::min(bold, here + 1);
  }
}

void TextWriter::list(std::string_view title, const std::vector<std::string>& items) {
  heading(title);
  for (const auto& text : items) item(text);
}

void TextWriter::item(std::string_view text) {
  dashed(text, 2);
}

void TextWriter::inner_item(std::string_view text) {
  dashed(text, 4);
}

void TextWriter::dashed(std::string_view text, std::size_t indent) {
  std::string lines = wrapped(printable(text), prose_width(), indent + 2);
  lines[indent] = '-';
  fmt::print(out_, "{}", lines);
}

void TextWriter::footer(std::string_view text) {
  fmt::print(out_, "\n");
  paragraph(text);
}

void TextWriter::table(const Table& raw) {
  const Table table = printable_cells(raw);
  const Layout layout = layout_of(table, style_.width);
  if (!table.title.empty()) heading(table.title);
  for (const auto& line : head_lines(table, layout)) fmt::print(out_, "{}\n", line);
  for (const TableRow& row : table.rows) {
    if (heads_a_group(row)) {
      paragraph(row.cells.front(), kMargin);
      continue;
    }
    if (layout.names_above) paragraph(row.cells.front(), kMargin);
    const auto [line, bar, more_of_name] = row_lines(table, layout, row);
    if (bar.empty()) {
      fmt::print(out_, "{}\n", without_end_blanks(line));
    } else {
      fmt::print(out_, "{}{:{}}{}\n", line, "", kGap, painted(bar, code_of(row.tone)));
    }
    for (const auto& more : more_of_name) fmt::print(out_, "{}\n", more);
  }
  if (!layout.left_out.empty() && style_.width < TextStyle::kUsualWidth) {
    paragraph(fmt::format("A wider window also shows: {}.", fmt::join(layout.left_out, ", ")),
              kMargin);
  }
  std::string legend = table.legend;
  if (layout.bar > 0 && !table.bars_legend.empty()) {
    legend += (legend.empty() ? "" : " ") + table.bars_legend;
  }
  if (!legend.empty()) paragraph(legend, kMargin);
}

std::string bar_text(const ShareBar& bar, std::size_t width) {
  constexpr std::array kEighths{"", "▏", "▎", "▍", "▌", "▋", "▊", "▉"};
  const auto eighths_of = [&](double share) {
    return static_cast<std::size_t>(
        std::lround(8.0 * static_cast<double>(width) * std::clamp(share, 0.0, 1.0)));
  };
  const std::size_t share = eighths_of(bar.share);
  std::string out;
  for (std::size_t i = 0; i < share / 8; ++i) out += "█";
  out += kEighths[share % 8];
  const std::size_t filled = (share + 7) / 8, end = (eighths_of(bar.high) + 4) / 8;
  for (std::size_t i = filled; i < end; ++i) out += "░";
  return out;
}

}  // namespace dullspell
