#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "engine/kit/fuel.hpp"
#include "engine/statistics/interval.hpp"
#include "weather/input/utf8.hpp"

namespace dullspell {

/// Units of what people read; what programs read is metric always.
enum class Units { metric, us };

/// As it is bought: "1.1 L", "0.3 gal" (US liquid gallons); of propane "1.1 kg", "2.4 lb".
std::string fuel(double litres, Fuel kind, Units units);
/// The number alone, for a table, its unit and what its row is called: "liters of fuel".
std::string fuel_number(double litres, Fuel kind, Units units);
const char* fuel_unit(Fuel kind, Units units);
std::string fuel_name(Fuel kind, Units units);
/// A tank as it is sold, as far as it is stated: "3.8 L", "1 gal"; of propane "9.07 kg", "20 lb".
std::string tank(double litres, Fuel kind, Units units);
/// "38.5 kg", "84.9 lb".
std::string weight(double kg, Units units);
/// "154 km", "96 mi" and "1906 m", "6253 ft".
std::string distance(double km, Units units);
std::string height(double m, Units units);
/// "12.3 °C", "54.1 °F".
std::string temperature(double c, Units units, int decimals = 1);
/// A difference of temperatures: "9.7 K", "17.5 °F".
std::string temperature_step(double k, Units units, int decimals = 1);

/// "12 %", "3.4 %", "0.02 %": no more digits than the interval supports.
std::string percent(const Proportion& share);

/// The same as stays of a hundred: "12", "0.02".
std::string of_hundred(const Proportion& share);

/// "11.6–12.5 %", with the digits of percent().
std::string percent_interval(const Proportion& share);

/// "22–55 %": an interval by itself, with the digits that its own width supports.
std::string percent_interval(const Interval& interval);

/// "12 of 100 such stays", "3 of 1000", for a sentence.
std::string in_words(const Proportion& share);

/// A share as whole percent, "87 %".
std::string whole_percent(double share);

/// "+1.2", "−0.4": a minus as wide as a plus; nothing before what rounds to zero.
std::string signed_number(double value, int decimals);

/// "1,234": thousands set apart.
std::string grouped(std::uint64_t value);

/// "1 year", "15 years".
std::string counted(std::uint64_t count, std::string_view one);

/// "850 Wh", "12.3 kWh".
std::string energy(double wh);

/// "first", "second", ... "twelfth", then "13th".
std::string ordinal(int number);

/// The text broken into lines of at most `width` columns, each after `indent` blanks: between
/// words, or within one that is longer than a line.
std::string wrapped(std::string_view text, std::size_t width = 92, std::size_t indent = 0);

/// Columns of the longest word, from which on wrapped() keeps all words whole.
std::size_t longest_word(std::string_view text);

/// The text with every `from`, which is not empty, replaced by `to`.
std::string replaced(std::string_view text, std::string_view from, std::string_view to);

/// Text filled with blanks on the left or right to a display width.
std::string left_aligned(std::string_view text, std::size_t width);
std::string right_aligned(std::string_view text, std::size_t width);

}  // namespace dullspell
