#include "weather/known_sky.hpp"

#include <algorithm>

namespace dullspell {
namespace {

// Beyond it a table knows no more than that a day is among the two strangest of ten thousand.
// A day beyond one in eighty is more likely a slip than a forecast, and would drag its neighbours.
constexpr double kFarthestChi = 2.25;

}  // namespace

std::string to_string(SkyWord word) {
  switch (word) {
    case SkyWord::clear:
      return "clear";
    case SkyWord::mixed:
      return "mixed";
    case SkyWord::overcast:
      return "overcast";
    case SkyWord::rain:
      return "rain";
  }
  return {};
}

std::vector<std::string> sky_words() {
  std::vector<std::string> out;
  for (const SkyWord word : kSkyWords) out.push_back(to_string(word));
  return out;
}

std::optional<SkyWord> sky_word(std::string_view word) {
  for (const SkyWord w : kSkyWords) {
    if (word == to_string(w)) return w;
  }
  return std::nullopt;
}

StatedClearness stated_clearness(const KnownSky& sky, double k_mean) {
  if (const auto* stated = std::get_if<StatedClearness>(&sky)) return *stated;
  switch (std::get<SkyWord>(sky)) {
    case SkyWord::clear:
      return {0.87 * largest_clearness(k_mean), 0.05};
    case SkyWord::mixed:
      return {0.47, 0.10};
    case SkyWord::overcast:
      return {0.23, 0.07};
    case SkyWord::rain:
      return {0.14, 0.06};
  }
  return {};
}

KnownChi known_chi(int day, const StatedClearness& stated, const ClearnessTable& k_of_chi) {
  const double mean = std::clamp(k_of_chi.chi_of(stated.k), -kFarthestChi, kFarthestChi);
  const double way =
      k_of_chi.chi_of(stated.k + stated.k_spread) - k_of_chi.chi_of(stated.k - stated.k_spread);
  return {day, mean, std::min(1.0, 0.5 * way)};
}

}  // namespace dullspell
