#pragma once

#include <optional>
#include <string_view>

namespace dullspell {

// Texts that stand for numbers in a plan, as people say them. Nothing for other texts.

/// 41.5 for "41.5 %" or "41.5%"; it may be any number, also one that is no share.
std::optional<double> percent_in(std::string_view text);

/// Hours of use: 2.5 for "2:30", "2 h 30 min", "2h30", "2.5 hours" or "150 min". Minutes beside
/// hours go up to 59.
std::optional<double> hours_in(std::string_view text);

/// Minutes after midnight, 0..1440: 930 for "15:30", "3:30 PM" or "3:30 p.m."; 900 for "15" or
/// "3 pm". Hours go from 0 to 24, with AM or PM from 1 to 12: 12 AM is midnight, 12 PM noon.
std::optional<int> minute_of_day_in(std::string_view text);

}  // namespace dullspell
