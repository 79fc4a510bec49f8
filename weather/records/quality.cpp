#include "weather/records/quality.hpp"

#include "weather/records/quality/checks.hpp"

namespace dullspell {

void check_quality(WeatherRecord& record, const Coordinates& where) {
  if (record.days.empty()) return;
  const JudgedDays days(record, where);
  check_units(record, days);
  check_clock(record, days, where);
  check_irradiation(record, days);
  check_temperatures(record);
}

}  // namespace dullspell
