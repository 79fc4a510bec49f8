#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "engine/interval.hpp"

namespace dullspell {

/// "12 %", "3.4 %", "0.02 %": no more digits than the interval supports.
std::string percent(const Proportion& share);

/// "11.6–12.5 %", with the digits of percent().
std::string percent_interval(const Proportion& share);

/// "22–55 %": an interval by itself, with the digits that its own width supports.
std::string percent_interval(const Interval& interval);

/// "12 of 100 such stays", "3 of 1000", for a sentence.
std::string in_words(const Proportion& share);

/// A share as whole percent, "87 %".
std::string whole_percent(double share);

/// "1,234": thousands set apart.
std::string grouped(std::uint64_t value);

/// "850 Wh", "12.3 kWh".
std::string energy(double wh);

/// "first", "second", ... "twelfth", then "13th".
std::string ordinal(int number);

/// The text broken into lines of at most `width` characters, each after `indent` blanks.
std::string wrapped(std::string_view text, std::size_t width = 92, std::size_t indent = 0);

/// Characters as a terminal counts them (UTF-8 continuation bytes take no room).
std::size_t display_width(std::string_view text);

/// Text filled with blanks on the left or right to a display width.
std::string left_aligned(std::string_view text, std::size_t width);
std::string right_aligned(std::string_view text, std::size_t width);

}  // namespace dullspell
