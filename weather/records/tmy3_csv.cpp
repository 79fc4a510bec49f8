#include "weather/records/tmy3_csv.hpp"

#include <fmt/format.h>

#include "weather/records/hour_collector.hpp"

namespace dullspell {
namespace {

enum Column : std::size_t { date, time, ghi, dry_bulb };

constexpr int kHoursOfYear = 8760;

WeatherRecord head_of(const SourceText& source) {
  const auto cells = split_line(source.line(1));
  if (cells.size() < 7) {
    refuse_line(source, 1, "", fmt::format("has {} cells", cells.size()),
                "station, \"name\", state, UTC offset, latitude, longitude, elevation",
                "The first line of a TMY3 file names its station.");
  }
  WeatherRecord record;
  record.file = source.name;
  record.ghi_column = "GHI (W/m^2)";
  record.name = cells[2].empty() ? cells[1] : fmt::format("{}, {}", cells[1], cells[2]);
  record.source = fmt::format("TMY3, station {}", cells[0]);
  record.utc_offset_h =
      header_number(source, 1, "time zone", cells[3], -12.0, 14.0, "hours from UTC");
  record.where = {header_number(source, 1, "latitude", cells[4], -90.0, 90.0, "degrees"),
                  header_number(source, 1, "longitude", cells[5], -180.0, 180.0, "degrees")};
  record.elevation_m = header_number(source, 1, "elevation", cells[6], -1000.0, 9999.9, "m");
  return record;
}

// "01/31/1995"
Date date_of(const CsvTable& table) {
  const std::string_view text = table.text(date);
  const auto first = text.find('/'), second = text.rfind('/');
  std::optional<Date> found;
  if (first != std::string_view::npos && second > first) {
    const auto month = whole_number(text.substr(0, first));
    const auto day = whole_number(text.substr(first + 1, second - first - 1));
    const auto year = whole_number(text.substr(second + 1));
    if (year && month && day) found = existing_date(*year, *month, *day);
  }
  if (!found) {
    table.fail(date, fmt::format("is `{}`", shortened(text)), "a date of the calendar, MM/DD/YYYY",
               "");
  }
  return *found;
}

// "24:00" is the hour that begins at 23:00.
int hour_of(const CsvTable& table) {
  const std::string_view text = table.text(time);
  const auto colon = text.find(':');
  const auto hour = whole_number(text.substr(0, colon));
  const bool full = colon != std::string_view::npos && text.substr(colon) == ":00";
  if (!hour || *hour < 1 || *hour > 24 || !full) {
    table.fail(time, fmt::format("is `{}`", shortened(text)), "01:00 to 24:00, the end of the hour",
               "");
  }
  return static_cast<int>(*hour) - 1;
}

}  // namespace

WeatherRecord read_tmy3_csv(const SourceText& source) {
  WeatherRecord record = head_of(source);
  CsvTable table(source, CsvDelimiter::comma,
                 {"Date (MM/DD/YYYY)", "Time (HH:MM)", "GHI (W/m^2)", "Dry-bulb (C)"}, {}, {1, ""});
  HourCollector collector(source);
  LineCount coded_ghi, coded_temperatures;
  int rows = 0;
  for (; table.next(); ++rows) {
    const Date day = date_of(table);
    const int hour = hour_of(table);
    const auto value = measured_value(table, ghi, CellKind::irradiation, coded_ghi);
    collector.add(day, hour, value,
                  measured_value(table, dry_bulb, CellKind::celsius, coded_temperatures),
                  table.line());
  }
  record.typical_year = collector.has_each_month_once();
  collector.finish(record);
  add_finding(record, coded_ghi, "irradiation", "irradiations", "marked as missing");
  add_finding(record, coded_temperatures, "temperature", "temperatures", "marked as missing");
  if (rows < kHoursOfYear) {
    add_finding(record, {kHoursOfYear - rows, 0}, "hour", "hours",
                "missing of the 8760 of a TMY3 file, which may have been cut short");
  }
  return record;
}

}  // namespace dullspell
