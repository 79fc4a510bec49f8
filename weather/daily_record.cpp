#include "weather/daily_record.hpp"

#include <charconv>

#include <fmt/format.h>

#include "weather/input/csv_table.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kLargestRecord_bytes = std::size_t{512} * 1024 * 1024;

enum Column : std::size_t {
  ghi,
  date,
  month,
  day,
  id,
  wban,
  temp_max,
  temp_min,
  temp_mean,
  tmax,
  tmin
};

std::optional<unsigned> whole(std::string_view text) {
  unsigned value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

std::optional<Date> typical_date(std::optional<unsigned> month, std::optional<unsigned> day) {
  if (!month || !day || *month > 12 || *day > 31) return std::nullopt;
  const std::chrono::year_month_day ymd{std::chrono::year{kTypicalYear}, std::chrono::month{*month},
                                        std::chrono::day{*day}};
  return ymd.ok() ? std::optional(Date{ymd}) : std::nullopt;
}

Date date_of(const CsvTable& table) {
  const bool whole_dates = table.has_column(Column::date);
  const auto date =
      whole_dates ? parse_iso_date(table.text(Column::date))
                  : typical_date(whole(table.text(Column::month)), whole(table.text(Column::day)));
  if (date) return *date;
  const std::size_t column = whole_dates ? Column::date : Column::day;
  table.fail(column, fmt::format("is `{}`", table.text(column)), "a date of the calendar",
             "Dates read 2020-01-31; or give `month` and `day` in columns of their own.");
}

std::optional<double> within(const CsvTable& table, std::size_t column, double low, double high,
                             std::string_view unit) {
  if (!table.has_column(column)) return std::nullopt;
  const auto value = table.number(column);
  if (value && !(*value >= low && *value <= high)) {
    table.fail(column, fmt::format("is {}", *value), fmt::format("{} to {} ({})", low, high, unit),
               "Leave the cell empty where a value is missing.");
  }
  return value;
}

std::optional<double> either(const CsvTable& table, std::size_t one, std::size_t other) {
  return within(table, table.has_column(one) ? one : other, -90.0, 60.0, "C");
}

}  // namespace

std::optional<double> RecordedDay::mean_temperature_c() const {
  if (temp_mean_c) return temp_mean_c;
  if (temp_max_c && temp_min_c) return 0.5 * (*temp_max_c + *temp_min_c);
  return std::nullopt;
}

DailyRecords read_daily_records(const SourceText& source) {
  const CsvDelimiter delimiter = CsvDelimiter::comma;
  CsvTable table(source, delimiter, {"ghi_kwh_m2"},
                 {"date", "month", "day", "id", "wban", "temp_max_c", "temp_min_c", "temp_mean_c",
                  "tmax_c", "tmin_c"});
  if (!table.has_column(Column::date) &&
      !(table.has_column(Column::month) && table.has_column(Column::day))) {
    table.fail(Column::date, "is missing", "a column `date`, or columns `month` and `day`", "");
  }
  const std::size_t site_column = table.has_column(Column::id) ? Column::id : Column::wban;

  DailyRecords records;
  while (table.next()) {
    RecordedDay row;
    row.date = date_of(table);
    row.ghi_kwh_m2 = within(table, Column::ghi, -0.1, 15.0, "kWh/m2 a day");
    row.temp_max_c = either(table, Column::temp_max, Column::tmax);
    row.temp_min_c = either(table, Column::temp_min, Column::tmin);
    row.temp_mean_c = within(table, Column::temp_mean, -90.0, 60.0, "C");
    auto& days = records[std::string(table.text(site_column))];
    if (!days.empty() && days.back().date >= row.date) {
      table.fail(table.has_column(Column::date) ? Column::date : Column::day,
                 fmt::format("is {}, not after the day before it ({})", iso_date(row.date),
                             iso_date(days.back().date)),
                 "days in order, each once", "");
    }
    days.push_back(row);
  }
  return records;
}

DailyRecords read_daily_record_file(const std::string& path) {
  return read_daily_records(read_source(path, "daily weather", kLargestRecord_bytes));
}

}  // namespace dullspell
