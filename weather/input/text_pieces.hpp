#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>

namespace dullspell {

/// The beginning of `text` up to the next `end`, or all of it; both are taken off `text`.
inline std::string_view cut_piece(std::string_view& text, char end) {
  const std::size_t length = std::min(text.find(end), text.size());
  const std::string_view piece = text.substr(0, length);
  text.remove_prefix(std::min(length + 1, text.size()));
  return piece;
}

/// The text with A to Z in small letters, whatever the locale.
inline std::string in_small_letters(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return text;
}

/// Without the blanks at both ends.
inline std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlanks = " \t\r";
  const auto first = text.find_first_not_of(kBlanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlanks) - first + 1);
}

}  // namespace dullspell
