#include "weather/past_weather.hpp"

#include "weather/solar_day.hpp"

namespace dullspell {

PastWeather::PastWeather(const WeatherRecord& record, const Coordinates& where) {
  if (record.days.empty()) return;
  wraps_ = record.typical_year;
  first_ = record.days.front().date;
  days_.resize(static_cast<std::size_t>((record.days.back().date - first_).count()) + 1);
  for (const RecordedDay& day : record.days) {
    PastDay& out = days_[static_cast<std::size_t>((day.date - first_).count())];
    out.temp_mean_c = day.mean_temperature_c();
    if (day.temp_max_c && day.temp_min_c) out.temp_range_c = *day.temp_max_c - *day.temp_min_c;
    const double extraterrestrial_wh_m2 = extraterrestrial_of_date_wh_m2(day.date, where);
    if (!day.ghi_kwh_m2 || extraterrestrial_wh_m2 <= 0.0) continue;
    const double k = *day.ghi_kwh_m2 * 1000.0 / extraterrestrial_wh_m2;
    if (k >= 0.0 && k <= 1.0) out.k = k;
  }
}

const PastDay& PastWeather::on(Date date) const {
  static const PastDay none{};
  const auto i = ((wraps_ ? in_year(date, kTypicalYear) : date) - first_).count();
  return i < 0 || i >= static_cast<long>(days_.size()) ? none : days_[static_cast<std::size_t>(i)];
}

}  // namespace dullspell
