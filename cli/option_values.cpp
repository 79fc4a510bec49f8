#include "cli/option_values.hpp"

#include <charconv>

#include <fmt/format.h>

#include "weather/input/input_error.hpp"
#include "weather/input/parsed_number.hpp"
#include "weather/sun_position.hpp"
#include "weather/towns.hpp"

namespace dullspell {

void refuse_option(const std::string& option, std::string problem, std::string allowed,
                   std::string fix) {
  InputProblem p;
  p.file = "command line";
  p.key = option;
  p.problem = std::move(problem);
  p.allowed = std::move(allowed);
  p.fix = std::move(fix);
  throw InputError(std::move(p));
}

std::uint64_t whole_number(const std::string& option, const std::string& text, std::uint64_t low,
                           std::uint64_t high) {
  std::uint64_t value = 0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc{} || stop != end || value < low || value > high) {
    refuse_option(option, fmt::format("is `{}`", text),
                  fmt::format("a whole number from {} to {}", low, high));
  }
  return value;
}

double real_number(const std::string& option, const std::string& text, double low, double high) {
  const auto value = parsed_number(text);
  if (!value || !(*value >= low && *value <= high)) {
    refuse_option(option, fmt::format("is `{}`", text),
                  fmt::format("a number from {} to {}", low, high));
  }
  return *value;
}

Date calendar_date(const std::string& option, const std::string& text) {
  const auto date = parse_iso_date(text);
  if (date && almanac_holds(*date)) return *date;
  refuse_option(option, fmt::format("is `{}`", text), "a date such as 2027-05-21, 1950 to 2049");
}

Coordinates coordinates(const std::string& option, const std::string& text) {
  const std::size_t comma = text.find(',');
  if (comma == std::string::npos) {
    refuse_option(option, fmt::format("is `{}`", text),
                  "latitude,longitude in degrees, north and east positive",
                  "For example 41.8,-124.2 without a blank.");
  }
  const std::size_t second = text.find_first_not_of(' ', comma + 1);
  return {real_number(option + " (latitude)", text.substr(0, comma), -90.0, 90.0),
          real_number(option + " (longitude)",
                      second == std::string::npos ? "" : text.substr(second), -180.0, 180.0)};
}

Coordinates whereabouts(const std::string& option, const std::string& text) {
  const auto first = text.find_first_not_of(" +-.");
  if (first == std::string::npos || (text[first] >= '0' && text[first] <= '9')) {
    return coordinates(option, text);
  }
  const FoundTown found = find_town(TownTable::built_in(), text);
  if (found.town) return found.town->where;
  refuse_option(option, fmt::format("is `{}`, which {}", text, found.problem),
                "latitude,longitude in degrees, or a town such as \"Moab, UT\"", found.fix);
}

RecordKind kind_of_record(const std::string& option, const std::string& text) {
  if (const auto kind = record_kind(text)) return *kind;
  refuse_option(option, fmt::format("is `{}`", text),
                "measured, typical-year, monthly-means or estimated");
}

}  // namespace dullspell
