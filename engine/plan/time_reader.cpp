#include "engine/plan/time_reader.hpp"

#include <fmt/format.h>

#include "weather/sun_position.hpp"

namespace dullspell {

LocalTime required_time(TomlSection& section, std::string_view key) {
  const auto time = section.local_time(key);
  if (!time) section.fail(key, "is missing", "a local date and time such as 2027-05-21T15:00:00");
  if (!almanac_holds(time->date)) {
    section.fail(key, fmt::format("is in {}", iso_date(time->date)), "1950 to 2049",
                 "The sun's formulas hold for those years.");
  }
  return *time;
}

}  // namespace dullspell
