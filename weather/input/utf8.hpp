#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace dullspell {

/// Letters `first` .. `first + count` of a UTF-8 text; a letter is a byte with its continuation
/// bytes, so that no letter is cut in two.
inline std::string utf8_slice(std::string_view text, std::size_t first, std::size_t count) {
  std::string out;
  std::size_t letter = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool begins = (static_cast<unsigned char>(text[i]) & 0xC0) != 0x80;
    if (begins && i > 0) ++letter;
    if (letter >= first + count) break;
    if (letter >= first) out += text[i];
  }
  return out;
}

/// Columns that a terminal gives the text: two for wide characters (CJK, most emoji), none for
/// combining marks (Unicode, by way of utf8proc). A byte that is no UTF-8 takes one, as U+FFFD.
std::size_t display_width(std::string_view text);

/// Bytes of the longest beginning of the text, in whole characters with their combining marks, that
/// takes up to `width` columns; of its first character if that is wider.
std::size_t fitting_bytes(std::string_view text, std::size_t width);

/// The text as a terminal may be given it: U+FFFD stands for control characters, for those that
/// turn the direction of writing, and for bytes that are no UTF-8; a blank for a tab or the end of
/// a line. As many characters as before.
std::string printable(std::string_view text);

}  // namespace dullspell
