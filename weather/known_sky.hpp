#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "weather/clearness_table.hpp"

namespace dullspell {

/// What people say of a day's sky.
enum class SkyWord { clear, mixed, overcast, rain };

/// All of them, from the lightest to the darkest.
inline constexpr std::array kSkyWords{SkyWord::clear, SkyWord::mixed, SkyWord::overcast,
                                      SkyWord::rain};

std::string to_string(SkyWord word);

/// All of them as people write them.
std::vector<std::string> sky_words();

/// Nothing for other words.
std::optional<SkyWord> sky_word(std::string_view word);

/// A day's clearness index K as somebody states it, 0..1, and the standard deviation of his error.
struct StatedClearness {
  double k;
  double k_spread;
};

/// Spread of a K that is stated without one. Common practice, no source.
constexpr double kUsualSpread = 0.10;

/// The sky of a day that is forecast or past: a word, or a clearness index.
using KnownSky = std::variant<SkyWord, StatedClearness>;

/// What a sky means where and when the mean clearness is `k_mean` (0.02..0.80). Words are common
/// practice, no source; their figures lie near the middle of the days of typical years that the
/// word fits: clear 0.87 of largest_clearness(k_mean), spread 0.05; mixed 0.47, spread 0.10;
/// overcast 0.23, spread 0.07. Rain is a day of it: 0.14, spread 0.06; in the record of Davis,
/// California (datasets/records), days with 10 to 20 mm have a median of 0.20, those with more one
/// of 0.13.
StatedClearness stated_clearness(const KnownSky& sky, double k_mean);

/// A known day as the chain of days sees it: its chi is N(mean, sd^2).
struct KnownChi {
  int day;      ///< 0 is the first day of the chain, -1 the day before it
  double mean;  ///< within -2.25..2.25
  double sd;    ///< 0..1
};

/// The chi at which the date's table has the stated K; its spread is half the table's way between
/// K -+ spread, but no day is held to be less certain than the climate makes it.
KnownChi known_chi(int day, const StatedClearness& stated, const ClearnessTable& k_of_chi);

}  // namespace dullspell
