#pragma once

#include <cstdint>
#include <string>

#include "weather/calendar.hpp"
#include "weather/place.hpp"
#include "weather/solar_day.hpp"

namespace dullspell {

/// Reads one value of the command line. Throws InputError that names the option and its bounds.
std::uint64_t whole_number(const std::string& option, const std::string& text, std::uint64_t low,
                           std::uint64_t high);
double real_number(const std::string& option, const std::string& text, double low, double high);
Date calendar_date(const std::string& option, const std::string& text);
/// "41.8,-124.2".
Coordinates coordinates(const std::string& option, const std::string& text);
/// The same, or a town's name: "Moab, UT".
Coordinates whereabouts(const std::string& option, const std::string& text);
RecordKind kind_of_record(const std::string& option, const std::string& text);

/// Reports a wrong value or combination on the command line.
[[noreturn]] void refuse_option(const std::string& option, std::string problem, std::string allowed,
                                std::string fix = "");

}  // namespace dullspell
