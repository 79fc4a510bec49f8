#include "weather/daily_record.hpp"

#include "weather/records/record_file.hpp"

namespace dullspell {

DailyRecords read_daily_record_file(const std::string& path) {
  DailyRecords records;
  for (auto& record : read_weather_file(path)) {
    records.emplace(std::move(record.site), std::move(record.days));
  }
  return records;
}

}  // namespace dullspell
