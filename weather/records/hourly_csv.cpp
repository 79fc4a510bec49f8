#include "weather/records/hourly_csv.hpp"

#include <fmt/format.h>

#include "weather/records/hour_collector.hpp"

namespace dullspell {
namespace {

enum Column : std::size_t {
  date,
  time,
  hour,
  hour_ending,
  hour_beginning,
  ghi_w,
  ghi_wh,
  temp_c,
  temp_f,
  id,
  wban
};

const std::vector<std::string> kColumns{"date",           "time",     "hour",      "hour_ending",
                                        "hour_beginning", "ghi_w_m2", "ghi_wh_m2", "temp_c",
                                        "temp_f",         "id",       "wban"};

struct HourOfRow {
  Date date;
  int hour = 0;  // by its beginning
};

class HourlyReader {
 public:
  explicit HourlyReader(const SourceText& source)
      : source_(source),
        table_(source, CsvDelimiter::comma, {}, kColumns),
        collector_(source),
        site_(table_.has_column(id) ? id : wban) {
    check_columns();
  }

  WeatherRecord read() {
    WeatherRecord record;
    record.file = source_.name;
    record.ghi_column = kColumns[ghi_];
    while (table_.next()) {
      check_site(record);
      const HourOfRow at = table_.has_column(time) ? hour_of_time() : hour_of_date();
      const auto ghi = measured_value(table_, ghi_, CellKind::irradiation, coded_ghi_);
      collector_.add(at.date, at.hour, ghi, temperature(), table_.line());
    }
    collector_.finish(record);
    add_finding(record, coded_ghi_, "irradiation", "irradiations", "marked as missing");
    add_finding(record, coded_temperatures_, "temperature", "temperatures", "marked as missing");
    return record;
  }

 private:
  void check_columns() {
    const bool ending = table_.has_column(hour_ending);
    const bool beginning = table_.has_column(hour_beginning);
    if (table_.has_column(hour) && !ending && !beginning && !table_.has_column(time)) {
      table_.fail(hour, "does not say which end of the hour it means",
                  "hour_ending (1 to 24) or hour_beginning (0 to 23)", "Rename the column.");
    }
    if (ending && beginning) {
      table_.fail(hour_beginning, "stands besides `hour_ending`", "one of the two",
                  "Leave one of them out.");
    }
    if (!table_.has_column(time) && !table_.has_column(date)) {
      table_.fail(date, "is missing", "a column `date` besides the hour, or a column `time`", "");
    }
    if (table_.has_column(ghi_w) && table_.has_column(ghi_wh)) {
      table_.fail(ghi_wh, "stands besides `ghi_w_m2`", "one of the two", "Leave one of them out.");
    }
    ghi_ = table_.has_column(ghi_w) ? ghi_w : ghi_wh;
    if (!table_.has_column(ghi_)) {
      refuse_line(source_, table_.line(), "", "has no column of global horizontal irradiation",
                  "ghi_w_m2 (the hour's mean) or ghi_wh_m2 (its sum), since the rows are hours",
                  "Name the columns in the first row; cells are separated by commas.");
    }
  }

  void check_site(WeatherRecord& record) {
    if (!table_.has_column(site_)) return;
    if (rows_++ == 0) record.site = table_.text(site_);
    if (table_.text(site_) != record.site) {
      table_.fail(
          site_, fmt::format("is `{}`", shortened(table_.text(site_))),
          fmt::format("the same site in all rows of an hourly file (`{}`)", shortened(record.site)),
          "Give each site a file of its own.");
    }
  }

  std::optional<Date> date_of(std::string_view text) const {
    const auto found = parse_iso_date(text);
    if (!found) return std::nullopt;
    const std::chrono::year_month_day ymd{*found};
    return existing_date(static_cast<unsigned>(int{ymd.year()}), unsigned{ymd.month()},
                         unsigned{ymd.day()});
  }

  HourOfRow hour_of_date() const {
    const auto day = date_of(table_.text(date));
    if (!day) {
      table_.fail(date, fmt::format("is `{}`", shortened(table_.text(date))),
                  "a date of the calendar", "Dates read 2020-01-31.");
    }
    const bool ending = table_.has_column(hour_ending);
    const std::size_t column = ending ? hour_ending : hour_beginning;
    const unsigned first = ending ? 1 : 0;
    const auto value = whole_number(table_.text(column));
    if (!value || *value < first || *value > first + 23) {
      table_.fail(column, fmt::format("is `{}`", shortened(table_.text(column))),
                  fmt::format("{} to {}", first, first + 23), "");
    }
    return {*day, static_cast<int>(*value - first)};
  }

  HourOfRow hour_of_time() const {
    const std::string_view text = table_.text(time);
    const auto refuse = [&](std::string_view fix) {
      table_.fail(time, fmt::format("is `{}`", shortened(text)),
                  "a date and full hour, as 2020-01-31T13:00", std::string(fix));
    };
    if (text.ends_with('Z') || text.find('+') != std::string_view::npos) {
      refuse("Times are standard time of the place, without an offset.");
    }
    const auto day = date_of(text.substr(0, 10));
    const bool parted = text.size() > 10 && (text[10] == 'T' || text[10] == ' ');
    const auto clock = parted ? text.substr(11) : std::string_view{};
    const auto value = whole_number(clock.substr(0, 2));
    const bool full =
        clock.size() >= 5 && (clock.substr(2) == ":00" || clock.substr(2) == ":00:00");
    if (!day || !value || *value > 23 || !full) {
      refuse("It names the hour that begins then, from 00:00 to 23:00.");
    }
    return {*day, static_cast<int>(*value)};
  }

  std::optional<double> temperature() {
    if (table_.has_column(temp_c)) {
      return measured_value(table_, temp_c, CellKind::celsius, coded_temperatures_);
    }
    if (!table_.has_column(temp_f)) return std::nullopt;
    const auto value = measured_value(table_, temp_f, CellKind::fahrenheit, coded_temperatures_);
    return value ? std::optional((*value - 32.0) / 1.8) : std::nullopt;
  }

  const SourceText& source_;
  CsvTable table_;
  HourCollector collector_;
  std::size_t ghi_ = ghi_w;
  std::size_t site_;
  std::size_t rows_ = 0;
  LineCount coded_ghi_, coded_temperatures_;
};

}  // namespace

WeatherRecord read_hourly_csv(const SourceText& source) {
  return HourlyReader(source).read();
}

}  // namespace dullspell
