#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "weather/weather_record.hpp"

namespace dullspell {

/// A run of successive days with the same value: [first, last).
struct Run {
  std::size_t first, last;
  std::size_t length() const { return last - first; }
};

/// Runs of one value over successive dates that are longer than chance makes them, `least` days at
/// least. `values` has one entry a day; nothing where a day takes no part.
std::vector<Run> stuck_runs(const std::vector<RecordedDay>& days,
                            const std::vector<std::optional<double>>& values, std::size_t least);

}  // namespace dullspell
