#include "weather/records/daily_csv.hpp"

#include <array>
#include <map>

#include <fmt/format.h>

#include "weather/records/record_cells.hpp"

namespace dullspell {
namespace {

enum Column : std::size_t {
  date,
  year,
  month,
  day,
  id,
  wban,
  ghi_kwh,
  ghi_mj,
  ghi_wh,
  ghi_w,
  temp_max_c,
  tmax_c,
  temp_max_f,
  tmax_f,
  temp_min_c,
  tmin_c,
  temp_min_f,
  tmin_f,
  temp_mean_c,
  tmean_c,
  temp_mean_f,
  tmean_f
};

const std::vector<std::string> kColumns{
    "date",        "year",      "month",       "day",      "id",         "wban",
    "ghi_kwh_m2",  "ghi_mj_m2", "ghi_wh_m2",   "ghi_w_m2", "temp_max_c", "tmax_c",
    "temp_max_f",  "tmax_f",    "temp_min_c",  "tmin_c",   "temp_min_f", "tmin_f",
    "temp_mean_c", "tmean_c",   "temp_mean_f", "tmean_f"};

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

// The one of several columns that the file has.
std::size_t present_of(const CsvTable& table, std::size_t first, std::size_t count) {
  std::size_t found = kNone;
  for (std::size_t column = first; column < first + count; ++column) {
    if (!table.has_column(column)) continue;
    if (found != kNone) {
      table.fail(column, fmt::format("stands besides `{}`", kColumns[found]),
                 "one column for a quantity", "Leave one of them out.");
    }
    found = column;
  }
  return found;
}

// kWh/m2 a day for each unit of the column.
double kwh_per_unit(std::size_t column) {
  switch (column) {
    case ghi_mj:
      return 1.0 / 3.6;
    case ghi_wh:
      return 1e-3;
    case ghi_w:
      return 24e-3;
    default:
      return 1.0;
  }
}

/// A temperature column and its unit.
struct TemperatureColumn {
  std::size_t column;
  bool fahrenheit;
};

// The four spellings stand together, Celsius first.
TemperatureColumn temperature_column(const CsvTable& table, std::size_t first) {
  const std::size_t column = present_of(table, first, 4);
  return {column, column != kNone && column >= first + 2};
}

class DailyReader {
 public:
  explicit DailyReader(const SourceText& source)
      : source_(source),
        table_(source, CsvDelimiter::comma, {}, kColumns),
        ghi_(irradiation_column()),
        max_(temperature_column(table_, temp_max_c)),
        min_(temperature_column(table_, temp_min_c)),
        mean_(temperature_column(table_, temp_mean_c)),
        site_(table_.has_column(id) ? id : wban) {
    if (!table_.has_column(date) && !(table_.has_column(month) && table_.has_column(day))) {
      table_.fail(date, "is missing", "a column `date`, or columns `month` and `day`", "");
    }
  }

  std::vector<WeatherRecord> read() {
    while (table_.next()) add_row();
    if (sites_.empty()) refuse_line(source_, 0, "", "has a header but no rows", "", "");
    std::vector<WeatherRecord> records;
    bool any_value = false;
    for (Site& site : sites_) {
      finish(site);
      any_value = any_value || site.valued;
      records.push_back(std::move(site.record));
    }
    if (!any_value) {
      refuse_line(source_, 0, kColumns[ghi_], "is missing in every row", "", "");
    }
    return records;
  }

 private:
  struct Site {
    WeatherRecord record;
    LineCount coded_ghi, coded_temperatures, empty_ghi;
    bool valued = false;
  };

  std::size_t irradiation_column() const {
    const std::size_t column = present_of(table_, ghi_kwh, 4);
    if (column == kNone) {
      refuse_line(source_, table_.line(), "", "has no column of global horizontal irradiation",
                  "one of ghi_kwh_m2, ghi_mj_m2, ghi_wh_m2 (the day's sum), ghi_w_m2 (its mean)",
                  "Name the columns in the first row; cells are separated by commas.");
    }
    return column;
  }

  bool is_typical() const { return !table_.has_column(date) && !table_.has_column(year); }

  Date date_of_row() const {
    std::optional<Date> found;
    if (table_.has_column(date)) {
      found = parse_iso_date(table_.text(date));
      if (found) {
        const std::chrono::year_month_day ymd{*found};
        found = existing_date(static_cast<unsigned>(int{ymd.year()}), unsigned{ymd.month()},
                              unsigned{ymd.day()});
      }
    } else {
      const auto y =
          is_typical() ? std::optional<unsigned>(kTypicalYear) : whole_number(table_.text(year));
      const auto m = whole_number(table_.text(month)), d = whole_number(table_.text(day));
      if (y && m && d) found = existing_date(*y, *m, *d);
    }
    if (found) return *found;
    const std::size_t column = table_.has_column(date) ? date : day;
    table_.fail(column, fmt::format("is `{}`", shortened(table_.text(column))),
                "a date of the calendar",
                "Dates read 2020-01-31; or give `month` and `day` in columns of their own.");
  }

  std::optional<double> temperature(const TemperatureColumn& from, LineCount& coded) const {
    if (from.column == kNone) return std::nullopt;
    const auto value = measured_value(
        table_, from.column, from.fahrenheit ? CellKind::fahrenheit : CellKind::celsius, coded);
    if (!value || !from.fahrenheit) return value;
    return (*value - 32.0) / 1.8;
  }

  Site& site_of_row() {
    const std::string_view name = table_.text(site_);
    if (latest_ != kNone && sites_[latest_].record.site == name) return sites_[latest_];
    const auto known = index_.find(name);
    if (known != index_.end()) {
      latest_ = known->second;
    } else {
      latest_ = sites_.size();
      index_.emplace(name, latest_);
      Site& site = sites_.emplace_back();
      site.record.file = source_.name;
      site.record.site = name;
      site.record.ghi_column = kColumns[ghi_];
      site.record.typical_year = is_typical();
    }
    return sites_[latest_];
  }

  void add_row() {
    RecordedDay row;
    row.date = date_of_row();
    row.line = table_.line();
    Site& site = site_of_row();
    const auto ghi = measured_value(table_, ghi_, CellKind::irradiation, site.coded_ghi);
    if (ghi) {
      row.ghi_kwh_m2 = *ghi * kwh_per_unit(ghi_);
      site.valued = true;
    } else if (table_.text(ghi_).empty()) {
      site.empty_ghi.add(row.line);
    }
    row.temp_max_c = temperature(max_, site.coded_temperatures);
    row.temp_min_c = temperature(min_, site.coded_temperatures);
    row.temp_mean_c = temperature(mean_, site.coded_temperatures);
    site.record.days.push_back(row);
  }

  void finish(Site& site) const {
    WeatherRecord& record = site.record;
    put_in_order(record, source_);
    report_gaps(record);
    add_finding(record, site.empty_ghi, "day", "days", "with an empty irradiation: missing");
    add_finding(record, site.coded_ghi, "irradiation", "irradiations", "marked as missing");
    add_finding(record, site.coded_temperatures, "temperature", "temperatures",
                "marked as missing");
  }

  const SourceText& source_;
  CsvTable table_;
  std::size_t ghi_;
  TemperatureColumn max_, min_, mean_;
  std::size_t site_;
  std::vector<Site> sites_;
  std::map<std::string, std::size_t, std::less<>> index_;
  std::size_t latest_ = kNone;
};

}  // namespace

std::vector<WeatherRecord> read_daily_csv(const SourceText& source) {
  return DailyReader(source).read();
}

}  // namespace dullspell
