#pragma once

#include <optional>
#include <vector>

#include "weather/weather_record.hpp"

namespace dullspell {

/// Weather of one past day, as the engine takes it.
struct PastDay {
  double k = -1.0;  ///< daily clearness index, 0..1; negative where the record has none
  std::optional<double> temp_mean_c;  ///< at the record's site
  std::optional<double> temp_range_c;

  bool has_sky() const { return k >= 0.0; }
};

/// A record laid out by date, its irradiation turned into clearness by our own extraterrestrial
/// irradiation at `where`. Days whose clearness would be below 0 or above 1 count as missing.
class PastWeather {
 public:
  PastWeather(const WeatherRecord& record, const Coordinates& where);

  /// The day of that date; one without sky where the record has none. A typical year stands for
  /// every year.
  const PastDay& on(Date date) const;

  /// Whether the record is a typical year, whose January follows its December.
  bool wraps() const { return wraps_; }

  bool empty() const { return days_.empty(); }
  Date first_date() const { return first_; }
  Date last_date() const { return first_ + std::chrono::days{static_cast<int>(days_.size()) - 1}; }

 private:
  bool wraps_ = false;
  Date first_{};
  std::vector<PastDay> days_;
};

}  // namespace dullspell
