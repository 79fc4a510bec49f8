#include "weather/records/record_file.hpp"

#include <algorithm>
#include <stdexcept>

#include <fmt/format.h>

#include "weather/records/daily_csv.hpp"
#include "weather/records/epw.hpp"
#include "weather/records/hourly_csv.hpp"
#include "weather/records/record_cells.hpp"
#include "weather/records/tmy3_csv.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kLargestRecord_bytes = std::size_t{512} * 1024 * 1024;
constexpr double kSamePlace_km = 10.0;

enum class Format { epw, tmy3, hourly, daily };

struct HeaderRow {
  int line = 0;
  std::string text;
};

// The first row that is neither blank nor a comment.
HeaderRow header_row(const SourceText& source) {
  std::size_t begin = 0;
  for (int line = 1; begin < source.text.size(); ++line) {
    const auto end = std::min(source.text.find('\n', begin), source.text.size());
    const std::string_view row(source.text.data() + begin, end - begin);
    if (!row.starts_with('#') && row.find_first_not_of(" \t\r") != std::string_view::npos) {
      return {line, std::string(row)};
    }
    begin = end + 1;
  }
  return {};
}

void check_delimiter(const SourceText& source, const HeaderRow& header) {
  if (header.text.find(',') != std::string::npos) return;
  for (const auto& [mark, name] : {std::pair{';', "semicolons"}, std::pair{'\t', "tabs"}}) {
    if (header.text.find(mark) == std::string::npos) continue;
    refuse_line(source, header.line, "", fmt::format("parts its cells by {}", name),
                "commas between cells, points in numbers", "Export the table as CSV with commas.");
  }
}

bool is_tmy3(const SourceText& source) {
  if (source.line(2).starts_with("Date (MM/DD/YYYY)")) return true;
  const std::string first = source.line(1);
  const auto comma = first.find(',');
  return comma != std::string::npos && whole_number(std::string_view(first).substr(0, comma)) &&
         first.substr(comma + 1, 1) == "\"";
}

Format format_of(const SourceText& source) {
  if (source.text.starts_with("LOCATION,")) return Format::epw;
  if (is_tmy3(source)) return Format::tmy3;
  const HeaderRow header = header_row(source);
  check_delimiter(source, header);
  for (const auto& name : split_line(header.text)) {
    if (name == "time" || name == "hour" || name == "hour_ending" || name == "hour_beginning") {
      return Format::hourly;
    }
  }
  return Format::daily;
}

void refuse_binary(const SourceText& source) {
  const auto nul = source.text.find('\0');
  if (nul == std::string::npos) return;
  const auto before = source.text.begin() + static_cast<std::ptrdiff_t>(nul);
  refuse_line(source, static_cast<int>(1 + std::count(source.text.begin(), before, '\n')), "",
              "holds binary data, not the text of a weather file", "text in UTF-8",
              "Check that you named the right file.");
}

[[noreturn]] void refuse_join(const WeatherRecord& record, std::string problem, std::string fix) {
  refuse_line({record.file, {}}, 0, "", std::move(problem), "files of one site and kind",
              std::move(fix));
}

void check_same_site(const WeatherRecord& first, const WeatherRecord& record) {
  if (first.typical_year || record.typical_year) {
    refuse_join(record,
                fmt::format("cannot be joined with {}: a typical year stands alone", first.file),
                "Name one file only.");
  }
  if (first.site != record.site && !first.site.empty() && !record.site.empty()) {
    refuse_join(
        record,
        fmt::format("holds the site `{}`, {} holds `{}`", record.site, first.file, first.site),
        "Name the files of one site only.");
  }
  if (first.where && record.where && distance_km(*first.where, *record.where) > kSamePlace_km) {
    refuse_join(record,
                fmt::format("is of a place {} from that of {}",
                            km_and_miles(distance_km(*first.where, *record.where)), first.file),
                "Name the files of one site only.");
  }
  if (first.utc_offset_h && record.utc_offset_h && *first.utc_offset_h != *record.utc_offset_h) {
    refuse_join(record,
                fmt::format("has the UTC offset {}, {} has {}", *record.utc_offset_h, first.file,
                            *first.utc_offset_h),
                "Name files of one standard time only.");
  }
}

template <class T>
void fill(std::optional<T>& into, const std::optional<T>& from) {
  if (!into) into = from;
}

void fill(std::string& into, const std::string& from) {
  if (into.empty()) into = from;
}

void append(WeatherRecord& joined, WeatherRecord record) {
  joined.file += (joined.file.empty() ? "" : ", ") + record.file;
  fill(joined.site, record.site);
  fill(joined.name, record.name);
  fill(joined.source, record.source);
  fill(joined.ghi_column, record.ghi_column);
  fill(joined.where, record.where);
  fill(joined.elevation_m, record.elevation_m);
  fill(joined.utc_offset_h, record.utc_offset_h);
  for (RecordedDay day : record.days) {
    day.line = 0;
    joined.days.push_back(day);
  }
  joined.hours.insert(joined.hours.end(), record.hours.begin(), record.hours.end());
  for (RecordFinding& finding : record.findings) {
    finding.what += fmt::format(" (in {})", record.file);
    joined.findings.push_back(std::move(finding));
  }
}

}  // namespace

std::vector<WeatherRecord> parse_weather_text(SourceText source) {
  if (source.text.starts_with("\xef\xbb\xbf")) source.text.erase(0, 3);
  refuse_binary(source);
  switch (format_of(source)) {
    case Format::epw:
      return {read_epw(source)};
    case Format::tmy3:
      return {read_tmy3_csv(source)};
    case Format::hourly:
      return {read_hourly_csv(source)};
    case Format::daily:
      break;
  }
  return read_daily_csv(source);
}

std::vector<WeatherRecord> read_weather_file(const std::string& path) {
  return parse_weather_text(read_source(path, "weather", kLargestRecord_bytes));
}

WeatherRecord join_records(std::vector<WeatherRecord> records) {
  if (records.empty()) throw std::invalid_argument("no records to join");
  if (records.size() == 1) return std::move(records.front());
  WeatherRecord joined;
  LineCount dropped;
  const bool all_hourly = std::none_of(records.begin(), records.end(),
                                       [](const WeatherRecord& r) { return r.hours.empty(); });
  for (WeatherRecord& record : records) {
    if (&record != &records.front()) check_same_site(records.front(), record);
    if (!all_hourly) {
      dropped.count += static_cast<int>(record.hours.size());
      record.hours.clear();
    }
  }
  for (const WeatherRecord& record : records) append(joined, record);
  put_in_order(joined, {joined.file, {}});
  report_gaps(joined);
  add_finding(joined, dropped, "day", "days",
              "with hours among files of days: only their sums used");
  return joined;
}

}  // namespace dullspell
