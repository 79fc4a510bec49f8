#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "weather/solar_day.hpp"
#include "weather/weather_record.hpp"

namespace dullspell {

// Irradiation above the air of a day, Wh/m2 (common practice, no source).
constexpr double kDark_wh_m2 = 30.0;      ///< below: no clearness to speak of
constexpr double kSun_wh_m2 = 300.0;      ///< above: a working sensor sees some of it
constexpr double kJudged_wh_m2 = 1000.0;  ///< from here on clearness tells a unit

/// The days of a record with the irradiation above the air.
class JudgedDays {
 public:
  JudgedDays(WeatherRecord& record, const Coordinates& where);

  std::size_t size() const { return record_.days.size(); }
  double above_air_wh_m2(std::size_t i) const { return above_air_[i]; }
  RecordedDay& day(std::size_t i) const { return record_.days[i]; }

  /// Clearness index of a day with a value and enough sun to tell a unit; else nothing.
  std::optional<double> clearness(std::size_t i) const;

  /// Of all such days.
  std::vector<double> clearness() const;

  /// Takes the irradiation out, and the hours that it was summed from.
  void leave_out(std::size_t i) const;

 private:
  WeatherRecord& record_;
  std::vector<double> above_air_;
};

/// Days with something in common, with the first of them.
struct DayCount {
  int count = 0;
  const RecordedDay* first = nullptr;

  void add(const RecordedDay& day) {
    if (count++ == 0) first = &day;
  }
};

/// Says of such days what they have in common; nothing if there are none.
void add_day_finding(WeatherRecord& record, const DayCount& met, std::string_view what);

/// Refuses the whole file. Throws InputError.
[[noreturn]] void refuse_record(const WeatherRecord& record, int line, std::string problem,
                                std::string allowed, std::string fix);

/// The value that this share of the values, at least one, lies below.
double quantile_of(std::vector<double> values, double share);

}  // namespace dullspell
