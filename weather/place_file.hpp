#pragma once

#include <iosfwd>

#include "weather/input/toml_section.hpp"
#include "weather/place.hpp"

namespace dullspell {

/// Reads a place from a TOML table: a file of its own, or the table inside a plan. Needed:
/// latitude, longitude, utc_offset_h and twelve k_mean, ghi_kwh_m2 or k_quantiles. Every monthly
/// key is a list of twelve or, ghi_kwh_m2 and k_quantiles apart, one number for all. Keys that are
/// left out get their default, which the place's `defaults` names. [standard_error] holds the same
/// keys, of numbers that the place states; what it leaves out counts as 0.
Place read_place(TomlSection& section);

/// Whether what a plan or command names is a place file (.toml, or a path) and not a built-in id.
bool names_place_file(std::string_view name);

/// Reads a place file. Throws InputError.
Place read_place_file(const std::string& path);

/// Writes a place file that read_place_file reads back to the same numbers, rounded to four
/// decimals (temperatures, ranges and slopes to two).
void write_place_file(std::ostream& out, const Place& place);

}  // namespace dullspell
