#include "weather/input/csv_table.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>  // the CSV header uses it without including it
#include <utility>
#include <variant>

#define CSV_IO_NO_THREAD
#include <fmt/format.h>
#include <libfccp/csv.h>

#include "weather/input/input_error.hpp"
#include "weather/input/parsed_number.hpp"
#include "weather/input/utf8.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kMostColumns = 24;
constexpr std::size_t kShownLetters = 40;  // of a cell, in a message

template <char Separator>
using Lines = io::CSVReader<kMostColumns, io::trim_chars<' '>, io::no_quote_escape<Separator>,
                            io::throw_on_overflow, io::single_and_empty_line_comment<'#'>>;

// The reader counts columns at compile time; unused places get names that no file can hold.
std::string unused_name(std::size_t i) {
  return fmt::format("\x01{}", i);
}

// The first byte after `lines` lines.
std::size_t beginning_after(std::string_view text, int lines) {
  std::size_t at = 0;
  for (int i = 0; i < lines && at < text.size(); ++i) {
    at = std::min(text.find('\n', at), text.size() - 1) + 1;
  }
  return at;
}

// A header row and then the text, without a copy of what may be a large file.
class HeaderAndText : public io::ByteSourceBase {
 public:
  HeaderAndText(std::string header, std::string_view text)
      : header_(std::move(header)), pieces_{header_, text} {}

  int read(char* buffer, int size) override {
    int filled = 0;
    for (std::string_view& piece : pieces_) {
      const auto taken = piece.copy(buffer + filled, static_cast<std::size_t>(size - filled));
      piece.remove_prefix(taken);
      filled += static_cast<int>(taken);
    }
    return filled;
  }

 private:
  std::string header_;
  std::array<std::string_view, 2> pieces_;
};

template <class F, std::size_t... I>
auto with_columns(F f, std::index_sequence<I...>) {
  return f(I...);
}

template <class F>
auto with_columns(F f) {
  return with_columns(f, std::make_index_sequence<kMostColumns>{});
}

}  // namespace

struct CsvTable::Reader {
  const SourceText& source;
  std::vector<std::string> names;
  std::array<char*, kMostColumns> cells{};
  std::array<bool, kMostColumns> found{};
  std::variant<std::monostate, Lines<','>, Lines<'\t'>> lines;

  template <class F>
  auto visit(F f) {
    return lines.index() == 1 ? f(std::get<1>(lines)) : f(std::get<2>(lines));
  }

  void count_lines_from(int line) {
    visit([&](auto& l) { l.set_file_line(static_cast<unsigned>(line)); });
  }

  Reader(const SourceText& text, CsvDelimiter delimiter, const CsvLayout& layout) : source(text) {
    std::string_view table = text.text;
    table.remove_prefix(beginning_after(table, layout.lines_before));
    std::unique_ptr<io::ByteSourceBase> bytes =
        std::make_unique<HeaderAndText>(layout.header.empty() ? "" : layout.header + "\n", table);
    if (delimiter == CsvDelimiter::comma) {
      lines.emplace<1>(text.name, std::move(bytes));
    } else {
      lines.emplace<2>(text.name, std::move(bytes));
    }
    count_lines_from(layout.lines_before + layout.lines_left_out);
  }

  int line() {
    return static_cast<int>(visit([](auto& l) { return l.get_file_line(); }));
  }

  [[noreturn]] void fail(std::string key, std::string problem, std::string allowed, std::string fix,
                         int at_line) {
    InputProblem p;
    p.file = source.name;
    p.line = at_line;
    p.key = std::move(key);
    p.problem = std::move(problem);
    p.allowed = std::move(allowed);
    p.fix = std::move(fix);
    p.source_line = source.line(at_line);
    throw InputError(std::move(p));
  }

  // The library's own messages name the file and line in a form of theirs: only the cause is kept.
  template <class F>
  auto guarded(F f) {
    try {
      return visit(f);
    } catch (const io::error::too_few_columns&) {
      fail("", "has fewer cells than the header", "", "A line may be cut short.", line());
    } catch (const io::error::too_many_columns&) {
      fail("", "has more cells than the header", "", "", line());
    } catch (const io::error::duplicated_column_in_header&) {
      fail("", "names a column twice", "", "", line());
    } catch (const io::error::header_missing&) {
      fail("", "has no header row", "", "The first row must name the columns.", 0);
    } catch (const io::error::line_length_limit_exceeded&) {
      fail("", "is longer than a row of a table can be", "at most 16 MiB", "", line());
    } catch (const io::error::base& e) {
      e.format_error_message();
      fail("", fmt::format("cannot be read as a table ({})", e.what()), "", "", line());
    }
  }
};

CsvTable::CsvTable(const SourceText& source, CsvDelimiter delimiter,
                   std::vector<std::string> required, std::vector<std::string> optional,
                   const CsvLayout& layout)
    : reader_(std::make_unique<Reader>(source, delimiter, layout)) {
  Reader& r = *reader_;
  const std::size_t needed = required.size();
  r.names = std::move(required);
  r.names.insert(r.names.end(), optional.begin(), optional.end());
  if (r.names.size() > kMostColumns) throw std::length_error("too many columns asked for");
  const std::size_t asked = r.names.size();
  for (std::size_t i = asked; i < kMostColumns; ++i) r.names.push_back(unused_name(i));

  r.guarded([&](auto& lines) {
    with_columns([&](auto... i) {
      lines.read_header(io::ignore_extra_column | io::ignore_missing_column, r.names[i]...);
    });
  });
  for (std::size_t i = 0; i < asked; ++i) {
    r.found[i] = r.visit([&](auto& lines) { return lines.has_column(r.names[i]); });
  }
  for (std::size_t i = 0; i < needed; ++i) {
    if (has_column(i)) continue;
    std::string wanted;
    for (std::size_t j = 0; j < needed; ++j) wanted += (j ? ", " : "") + r.names[j];
    r.fail("", fmt::format("has no column `{}`", r.names[i]), "", "Needed columns: " + wanted + ".",
           r.line());
  }
  if (!layout.header.empty()) r.count_lines_from(layout.lines_before + layout.lines_left_out);
}

CsvTable::~CsvTable() = default;

bool CsvTable::next() {
  Reader& r = *reader_;
  r.cells.fill(nullptr);
  return r.guarded([&](auto& lines) {
    return with_columns([&](auto... i) { return lines.read_row(r.cells[i]...); });
  });
}

bool CsvTable::has_column(std::size_t column) const {
  return reader_->found[column];
}

std::string_view CsvTable::text(std::size_t column) const {
  const char* cell = reader_->cells[column];
  return cell ? std::string_view(cell) : std::string_view{};
}

std::optional<double> CsvTable::number(std::size_t column) const {
  const std::string_view cell = text(column);
  if (cell.empty()) return std::nullopt;
  const auto value = parsed_number(cell);
  if (!value || !std::isfinite(*value)) {
    fail(column, fmt::format("is `{}`", utf8_slice(cell, 0, kShownLetters)),
         "a finite number, or nothing where it is missing", "");
  }
  return value;
}

double CsvTable::required_number(std::size_t column) const {
  const auto value = number(column);
  if (!value) fail(column, "is missing", "a finite number", "");
  return *value;
}

int CsvTable::line() const {
  return reader_->line();
}

void CsvTable::fail(std::size_t column, std::string problem, std::string allowed,
                    std::string fix) const {
  reader_->fail(reader_->names[column], std::move(problem), std::move(allowed), std::move(fix),
                line());
}

}  // namespace dullspell
