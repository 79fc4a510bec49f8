#include "weather/weather_record.hpp"

namespace dullspell {

std::optional<double> RecordedDay::mean_temperature_c() const {
  if (temp_mean_c) return temp_mean_c;
  if (temp_max_c && temp_min_c) return 0.5 * (*temp_max_c + *temp_min_c);
  return std::nullopt;
}

}  // namespace dullspell
