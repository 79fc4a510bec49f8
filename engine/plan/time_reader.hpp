#pragma once

#include "weather/input/toml_section.hpp"

namespace dullspell {

/// A local date and time that has to be stated, on a date for which the sun's formulas hold.
LocalTime required_time(TomlSection& section, std::string_view key);

}  // namespace dullspell
