#include "weather/records/record_cells.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

#include "weather/input/input_error.hpp"
#include "weather/input/parsed_number.hpp"
#include "weather/input/text_pieces.hpp"
#include "weather/input/utf8.hpp"

namespace dullspell {
namespace {

constexpr int kFirstYear = 1800;
constexpr int kLastYear = 2100;

bool is_word_for_missing(std::string_view text) {
  constexpr std::array<std::string_view, 8> kWords{"NA",  "N/A",  "na",   "NaN",
                                                   "nan", "null", "NULL", "NAN"};
  return std::find(kWords.begin(), kWords.end(), text) != kWords.end();
}

bool is_all_nines(double magnitude) {
  constexpr std::array kNines{99.0,   99.9,   99.99,   999.0,   999.9,  999.99,
                              9999.0, 9999.9, 9999.99, 99999.0, 99999.9};
  return std::find(kNines.begin(), kNines.end(), magnitude) != kNines.end();
}

// The least number of nines that no weather reaches.
double least_positive_code(CellKind kind) {
  switch (kind) {
    case CellKind::celsius:
      return 99.0;
    case CellKind::fahrenheit:
      return 999.0;
    case CellKind::irradiation:
      break;
  }
  return 9999.0;
}

bool is_code_for_missing(double value, CellKind kind) {
  if (value > -99.0 && value < 99.0) return false;
  if (value == -9900.0) return true;
  return is_all_nines(std::abs(value)) && (value < 0.0 || value >= least_positive_code(kind));
}

template <class Entry>
void sort_by_date(std::vector<Entry>& entries) {
  const auto earlier = [](const Entry& a, const Entry& b) { return a.date < b.date; };
  if (!std::is_sorted(entries.begin(), entries.end(), earlier)) {
    std::stable_sort(entries.begin(), entries.end(), earlier);
  }
}

template <class Entry>
void keep_first_of_each_date(std::vector<Entry>& entries) {
  const auto same = [](const Entry& a, const Entry& b) { return a.date == b.date; };
  entries.erase(std::unique(entries.begin(), entries.end(), same), entries.end());
}

}  // namespace

void add_finding(WeatherRecord& record, const LineCount& met, std::string_view one,
                 std::string_view many, std::string_view what) {
  if (met.count == 0) return;
  record.findings.push_back(
      {fmt::format("{} {}", met.count == 1 ? one : many, what), met.count, met.line});
}

std::optional<double> measured_value(const CsvTable& table, std::size_t column, CellKind kind,
                                     LineCount& coded) {
  const std::string_view text = table.text(column);
  if (text.empty()) return std::nullopt;
  if (is_word_for_missing(text)) {
    coded.add(table.line());
    return std::nullopt;
  }
  const double value = *table.number(column) + 0.0;  // no negative zero
  if (!is_code_for_missing(value, kind)) return value;
  coded.add(table.line());
  return std::nullopt;
}

std::optional<unsigned> whole_number(std::string_view text) {
  unsigned value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

std::optional<Date> existing_date(unsigned year, unsigned month, unsigned day) {
  if (year < kFirstYear || year > kLastYear || month > 12 || day > 31) return std::nullopt;
  const std::chrono::year_month_day ymd{std::chrono::year{static_cast<int>(year)},
                                        std::chrono::month{month}, std::chrono::day{day}};
  return ymd.ok() ? std::optional(Date{ymd}) : std::nullopt;
}

std::optional<Date> in_typical_year(Date date) {
  const std::chrono::year_month_day ymd{date};
  return existing_date(kTypicalYear, unsigned{ymd.month()}, unsigned{ymd.day()});
}

std::vector<std::string> split_line(std::string_view line) {
  std::vector<std::string> cells;
  bool quoted = false;
  std::string cell;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      cells.emplace_back(trimmed(cell));
      cell.clear();
    } else {
      cell += c;
    }
  }
  cells.emplace_back(trimmed(cell));
  return cells;
}

void refuse_line(const SourceText& source, int line, std::string key, std::string problem,
                 std::string allowed, std::string fix) {
  InputProblem p;
  p.file = source.name;
  p.line = line;
  p.key = std::move(key);
  p.problem = std::move(problem);
  p.allowed = std::move(allowed);
  p.fix = std::move(fix);
  if (line > 0) p.source_line = source.line(line);
  throw InputError(std::move(p));
}

double header_number(const SourceText& source, int line, std::string_view key,
                     std::string_view text, double low, double high, std::string_view unit) {
  const auto value = parsed_number(text);
  if (!value || !(*value >= low && *value <= high)) {
    refuse_line(source, line, std::string(key), fmt::format("is `{}`", shortened(text)),
                fmt::format("{} to {} ({})", low, high, unit), "");
  }
  return *value;
}

std::string shortened(std::string_view text) {
  return utf8_slice(text, 0, 40);
}

void report_order(WeatherRecord& record, const SourceText& source, const LineCount& unordered,
                  const LineCount& doubled, std::size_t rows, std::string_view row) {
  const int bad = unordered.count + doubled.count;
  if (bad > kMostMendedShare * static_cast<double>(rows)) {
    const bool mostly_doubled = doubled.count > unordered.count;
    refuse_line(source, mostly_doubled ? doubled.line : unordered.line, "",
                mostly_doubled
                    ? fmt::format("repeats a{} that was there before ({} of {} rows do)",
                                  row == "day" ? " day" : "n hour", doubled.count, rows)
                    : fmt::format("is earlier than the row before it ({} of {} rows are)",
                                  unordered.count, rows),
                fmt::format("{}s in order, each once; up to 5 % are mended", row),
                mostly_doubled ? "Records of several sites in one file need a column `id`; of "
                                 "files that overlap, leave one out."
                               : "Sort the rows by date, oldest first.");
  }
  const std::string many = fmt::format("{}s", row);
  add_finding(record, unordered, row, many, "earlier than the row before: put in order");
  add_finding(record, doubled, row, many, "given twice: the first kept");
}

void put_in_order(WeatherRecord& record, const SourceText& source) {
  auto& days = record.days;
  const std::size_t rows = days.size();
  LineCount unordered, doubled;
  for (std::size_t i = 1; i < rows; ++i) {
    if (days[i].date < days[i - 1].date) unordered.add(days[i].line);
  }
  sort_by_date(days);
  for (std::size_t i = 1; i < rows; ++i) {
    if (days[i].date != days[i - 1].date) continue;
    if (doubled.count++ == 0 || days[i].line < doubled.line) doubled.line = days[i].line;
  }
  report_order(record, source, unordered, doubled, rows, "day");
  keep_first_of_each_date(days);
  sort_by_date(record.hours);
  keep_first_of_each_date(record.hours);
}

void report_gaps(WeatherRecord& record) {
  if (record.days.empty()) return;
  const auto& days = record.days;
  const auto span = record.typical_year ? 365 : (days.back().date - days.front().date).count() + 1;
  LineCount gap;
  for (std::size_t i = 1; i < days.size() && gap.line == 0; ++i) {
    if (days[i].date - days[i - 1].date > std::chrono::days{1}) gap.line = days[i].line;
  }
  gap.count = static_cast<int>(span) - static_cast<int>(days.size());
  add_finding(record, gap, "day", "days",
              record.typical_year ? "of the year without a row: missing"
                                  : "without a row between the first and the last: missing");
}

}  // namespace dullspell
