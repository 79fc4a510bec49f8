#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "weather/records/record_cells.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

/// Collects the rows of an hourly file in any order and makes days of them.
class HourCollector {
 public:
  /// `source` must outlive this. Several records an hour (1..60) are averaged.
  explicit HourCollector(const SourceText& source, int records_per_hour = 1);

  /// One row: clock hour 0..23 of standard time, by its beginning; mean irradiance of the hour in
  /// W/m2 (its irradiation in Wh/m2 is the same number) and temperature in C, if there.
  void add(Date date, int hour, std::optional<double> ghi_w_m2, std::optional<double> temp_c,
           int line);

  /// Whether months of different years were put together: each month has one year, and somewhere
  /// one date follows another in the calendar but not in time.
  bool is_pieced_together() const;

  /// Whether no calendar month comes in two years.
  bool has_each_month_once() const;

  /// Fills days, hours and findings. Uses the record's coordinates and UTC offset, if it has both,
  /// to tell hours of night; else an hour counts as night if it is dark on all days of its
  /// calendar month that have it. A record of a typical year gets its dates moved to kTypicalYear.
  ///
  /// A day's irradiation is the sum of its hours; with an hour missing that is not night it has
  /// none. Temperatures need 20 hours. Throws InputError without rows or without any irradiation,
  /// and for rows mostly out of order or doubled.
  void finish(WeatherRecord& record);

 private:
  struct Hour {
    double ghi_sum = 0.0;
    double temp_sum = 0.0;
    std::int16_t rows = 0;
    std::int16_t ghi_count = 0;
    std::int16_t temp_count = 0;
  };
  struct Day {
    Date date;
    int line = 0;
    std::array<Hour, 24> hours;
  };

  void check_order(Date date, int hour, int line);
  Day& day_of(Date date, int line);
  void move_to_typical_year(WeatherRecord& record);
  std::array<double, 24> irradiations(const Day& day);
  void tell_night(const WeatherRecord& record, const std::vector<RecordedHours>& hours);
  bool is_night(const WeatherRecord& record, Date date, std::size_t hour) const;
  void sum_day(WeatherRecord& record, const Day& day, RecordedHours& hours);

  const SourceText& source_;
  int records_per_hour_;
  std::vector<Day> days_;  // in order of their first rows
  std::map<Date, std::size_t> index_;
  std::size_t latest_ = 0;
  std::optional<Date> last_date_;
  int last_hour_ = 0;
  std::size_t rows_ = 0;
  // By time, and by the calendar without its years.
  LineCount unordered_, unordered_in_year_;
  LineCount doubled_, dark_, negative_, incomplete_, few_temperatures_, leap_days_;
  // By month and hour, whether any day has light; nothing where no day has a value.
  std::array<std::array<std::optional<bool>, 24>, 12> lit_{};
};

}  // namespace dullspell
