#include "weather/records/epw.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "weather/records/hour_collector.hpp"

namespace dullspell {
namespace {

constexpr std::array<std::string_view, 8> kHeads{"LOCATION",
                                                 "DESIGN CONDITIONS",
                                                 "TYPICAL/EXTREME PERIODS",
                                                 "GROUND TEMPERATURES",
                                                 "HOLIDAYS/DAYLIGHT SAVINGS",
                                                 "COMMENTS 1",
                                                 "COMMENTS 2",
                                                 "DATA PERIODS"};

enum Cell : std::size_t { year, month, day, hour, dry_bulb, ghi };

constexpr std::size_t kLeastCells = 14;
constexpr double kMissingDryBulb_c = 99.9;
constexpr double kMissingGhi = 9999.0;

std::string upper(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(), [](char c) {
    return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  });
  return out;
}

/// What the rows need to know of the head.
struct Head {
  bool leap_years = false;
  int records_per_hour = 1;
  std::vector<std::pair<Date, Date>> periods;  // first and last day, in a leap year
  bool names_typical_year = false;
};

using HeadLines = std::array<std::vector<std::string>, 8>;

HeadLines head_lines(const SourceText& source) {
  HeadLines lines;
  for (std::size_t i = 0; i < kHeads.size(); ++i) {
    const int line = static_cast<int>(i) + 1;
    lines[i] = split_line(source.line(line));
    const std::string found = upper(lines[i].front());
    // Some writers leave off the last S.
    if (found == kHeads[i] || found + "S" == kHeads[i]) continue;
    refuse_line(source, line, "", fmt::format("begins with `{}`", shortened(lines[i].front())),
                fmt::format("`{}`", kHeads[i]),
                "An EPW file has eight header lines in this order.");
  }
  return lines;
}

WeatherRecord location(const SourceText& source, const std::vector<std::string>& cells) {
  if (cells.size() < 10) {
    refuse_line(source, 1, "LOCATION", fmt::format("has {} cells", cells.size()),
                "city, state, country, source, station, latitude, longitude, UTC offset, elevation",
                "The line may be cut short.");
  }
  WeatherRecord record;
  record.file = source.name;
  record.ghi_column = "global horizontal radiation";
  for (const std::size_t i : {1u, 2u, 3u}) {
    if (cells[i].empty() || cells[i] == "-") continue;
    record.name += (record.name.empty() ? "" : ", ") + cells[i];
  }
  record.source = cells[5].empty() ? cells[4] : fmt::format("{}, station {}", cells[4], cells[5]);
  record.where = {header_number(source, 1, "latitude", cells[6], -90.0, 90.0, "degrees"),
                  header_number(source, 1, "longitude", cells[7], -180.0, 180.0, "degrees")};
  record.utc_offset_h =
      header_number(source, 1, "time zone", cells[8], -12.0, 14.0, "hours from UTC");
  record.elevation_m = header_number(source, 1, "elevation", cells[9], -1000.0, 9999.9, "m");
  return record;
}

bool leap_years(const SourceText& source, const std::vector<std::string>& cells) {
  const std::string word = cells.size() > 1 ? upper(cells[1]) : "";
  if (word != "YES" && word != "NO") {
    refuse_line(source, 5, "leap year observed", fmt::format("is `{}`", shortened(word)),
                "Yes or No", "");
  }
  return word == "YES";
}

// " 1/ 1", "12/31" or with a year "1/1/2010", as a date of a leap year.
Date period_date(const SourceText& source, std::string_view text) {
  const auto first = text.find('/');
  const auto second = std::min(text.find('/', first + 1), text.size());
  std::optional<Date> found;
  if (first != std::string_view::npos) {
    const auto number = [](std::string_view part) {
      const auto begin = std::min(part.find_first_not_of(' '), part.size());
      return whole_number(part.substr(begin));
    };
    const auto m = number(text.substr(0, first));
    const auto d = number(text.substr(first + 1, second - first - 1));
    if (m && d) found = existing_date(2000, *m, *d);
  }
  if (!found) {
    refuse_line(source, 8, "DATA PERIODS", fmt::format("holds the date `{}`", shortened(text)),
                "month/day", "");
  }
  return *found;
}

void read_data_periods(const SourceText& source, const std::vector<std::string>& cells,
                       Head& head) {
  const auto number = [&](std::size_t i) {
    return cells.size() > i ? whole_number(cells[i]) : std::nullopt;
  };
  const auto periods = number(1), records = number(2);
  if (!periods || *periods < 1 || *periods > 1000 || cells.size() < 3 + 4 * *periods) {
    refuse_line(source, 8, "number of data periods",
                fmt::format("is `{}` with {} cells in the line",
                            cells.size() > 1 ? shortened(cells[1]) : "", cells.size()),
                "1 or more, and four cells for each", "");
  }
  if (!records || *records < 1 || *records > 60 || 60 % *records != 0) {
    refuse_line(source, 8, "records per hour", fmt::format("is `{}`", shortened(cells[2])),
                "1 to 60, a divisor of 60", "");
  }
  head.records_per_hour = static_cast<int>(*records);
  for (std::size_t i = 0; i < *periods; ++i) {
    head.periods.emplace_back(period_date(source, cells[5 + 4 * i]),
                              period_date(source, cells[6 + 4 * i]));
  }
}

// A period may run over the end of the year.
int announced_days(const Head& head, bool with_leap_day) {
  constexpr int kDaysOfLeapYear = 366;
  const Date leap_day = make_date(2000, 2, 29);
  int days = 0;
  for (const auto& [first, last] : head.periods) {
    const bool wraps = last < first;
    days += static_cast<int>((last - first).count()) + 1 + (wraps ? kDaysOfLeapYear : 0);
    const bool holds_leap_day =
        wraps ? first <= leap_day || leap_day <= last : first <= leap_day && leap_day <= last;
    days -= holds_leap_day && !with_leap_day ? 1 : 0;
  }
  return days;
}

bool names_typical_year(const HeadLines& lines) {
  constexpr std::array<std::string_view, 7> kWords{"TMY", "IWEC", "CWEC",   "WYEC",
                                                   "TRY", "RMY",  "TYPICAL"};
  std::string text = lines[0][4];
  for (const std::size_t i : {5u, 6u}) {
    for (const auto& cell : lines[i]) text += " " + cell;
  }
  text = upper(text);
  // A word may go on in digits or an x (TMY3, TMYx) but not in letters, nor follow one (COUNTRY).
  return std::any_of(kWords.begin(), kWords.end(), [&](std::string_view word) {
    for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
      const auto is_letter = [&](std::size_t i) {
        return i < text.size() && text[i] >= 'A' && text[i] <= 'Z';
      };
      const auto end = at + word.size();
      const bool ends = !is_letter(end) || (text[end] == 'X' && !is_letter(end + 1));
      if (ends && (at == 0 || !is_letter(at - 1))) return true;
    }
    return false;
  });
}

// Names for the cells of a file without a header row: those in use, numbers for the others.
std::string header_for(const SourceText& source) {
  const std::string first = source.line(static_cast<int>(kHeads.size()) + 1);
  const auto cells = static_cast<std::size_t>(std::count(first.begin(), first.end(), ',')) + 1;
  if (cells < kLeastCells) {
    refuse_line(source, static_cast<int>(kHeads.size()) + 1, "",
                fmt::format("has {} cells", first.empty() ? 0 : cells),
                fmt::format("rows of at least {} cells", kLeastCells),
                "The file may be cut short.");
  }
  std::string header;
  for (std::size_t i = 0; i < cells; ++i) {
    constexpr std::array<std::string_view, kLeastCells> kNames{
        "year", "month", "day", "hour", "", "", "dry bulb",
        "",     "",      "",    "",     "", "", "global horizontal radiation"};
    const bool named = i < kLeastCells && !kNames[i].empty();
    header += i == 0 ? "" : ",";
    header += named ? std::string(kNames[i]) : fmt::format("cell {}", i + 1);
  }
  return header;
}

Date date_of(const CsvTable& table) {
  const auto y = whole_number(table.text(year)), m = whole_number(table.text(month)),
             d = whole_number(table.text(day));
  const auto found = y && m && d ? existing_date(*y, *m, *d) : std::nullopt;
  if (!found) {
    table.fail(day,
               fmt::format("is `{}` in month `{}` of `{}`", shortened(table.text(day)),
                           shortened(table.text(month)), shortened(table.text(year))),
               "a date of the calendar", "");
  }
  return *found;
}

int hour_of(const CsvTable& table) {
  const auto value = whole_number(table.text(hour));
  if (!value || *value < 1 || *value > 24) {
    table.fail(hour, fmt::format("is `{}`", shortened(table.text(hour))),
               "1 to 24, the end of the hour", "");
  }
  return static_cast<int>(*value) - 1;
}

std::optional<double> below(std::optional<double> value, double missing, int line,
                            LineCount& coded) {
  if (!value || *value < missing) return value;
  coded.add(line);
  return std::nullopt;
}

}  // namespace

WeatherRecord read_epw(const SourceText& source) {
  const HeadLines lines = head_lines(source);
  WeatherRecord record = location(source, lines[0]);
  Head head;
  head.leap_years = leap_years(source, lines[4]);
  head.names_typical_year = names_typical_year(lines);
  read_data_periods(source, lines[7], head);

  CsvTable table(source, CsvDelimiter::comma,
                 {"year", "month", "day", "hour", "dry bulb", "global horizontal radiation"}, {},
                 {static_cast<int>(kHeads.size()), header_for(source)});
  HourCollector collector(source, head.records_per_hour);
  LineCount coded_ghi, coded_temperatures, leap_rows;
  int rows = 0;
  bool leap_year = false;
  for (; table.next(); ++rows) {
    const Date date = date_of(table);
    leap_year = leap_year || std::chrono::year_month_day{date}.year().is_leap();
    const int line = table.line();
    if (!in_typical_year(date)) leap_rows.add(line);
    const auto light = below(measured_value(table, ghi, CellKind::irradiation, coded_ghi),
                             kMissingGhi, line, coded_ghi);
    const auto temp_c =
        below(measured_value(table, dry_bulb, CellKind::celsius, coded_temperatures),
              kMissingDryBulb_c, line, coded_temperatures);
    collector.add(date, hour_of(table), light, temp_c, line);
  }
  record.typical_year = collector.is_pieced_together() ||
                        (head.names_typical_year && collector.has_each_month_once());
  collector.finish(record);
  add_finding(record, coded_ghi, "irradiation", "irradiations", "marked as missing");
  add_finding(record, coded_temperatures, "temperature", "temperatures", "marked as missing");
  if (!head.leap_years) {
    add_finding(record, leap_rows, "row", "rows",
                "of 29 February, though the head says that leap years are not observed");
  }
  const int announced =
      announced_days(head, head.leap_years && leap_year) * 24 * head.records_per_hour;
  if (rows < announced) {
    add_finding(record, {announced - rows, 0}, "row", "rows",
                "missing of those that the head announces; the file may have been cut short");
  }
  return record;
}

}  // namespace dullspell
