#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace dullspell {

/// The word of `known` that is nearest to `typed` by edit distance (insert, delete, replace and
/// swap of neighbours count one each), if it is at most `farthest` and less than half of the longer
/// word.
std::optional<std::string> nearest_word(std::string_view typed, std::span<const std::string> known,
                                        int farthest = 3);

/// "Did you mean `capacity_ah` or `capacity_wh`?": the words that begin with what was typed, be it
/// in capitals, if that is three letters or more, up to three of them; else the nearest word.
/// Empty if there is none. `quote` stands around each.
std::string did_you_mean(std::string_view typed, std::span<const std::string> known,
                         char quote = '`');

}  // namespace dullspell
