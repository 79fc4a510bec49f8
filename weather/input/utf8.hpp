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

}  // namespace dullspell
