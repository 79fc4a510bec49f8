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

}  // namespace dullspell
