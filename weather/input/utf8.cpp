#include "weather/input/utf8.hpp"

#include <utf8proc.h>

namespace dullspell {
namespace {

constexpr utf8proc_int32_t kReplacement = 0xFFFD;

struct Character {
  utf8proc_int32_t code = kReplacement;
  std::size_t bytes = 1;
};

Character character_at(std::string_view text, std::size_t at) {
  Character out;
  const auto* bytes = reinterpret_cast<const utf8proc_uint8_t*>(text.data() + at);
  const auto taken =
      utf8proc_iterate(bytes, static_cast<utf8proc_ssize_t>(text.size() - at), &out.code);
  if (taken <= 0) return {};
  out.bytes = static_cast<std::size_t>(taken);
  return out;
}

std::size_t width_of(const Character& character) {
  return static_cast<std::size_t>(utf8proc_charwidth(character.code));
}

// Embeddings, overrides and isolates (Unicode Standard Annex 9, table 4 and section 2).
bool turns_direction(utf8proc_int32_t code) {
  return (code >= 0x202A && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
}

bool ends_line(utf8proc_int32_t code) {
  const auto category = utf8proc_category(code);
  return code == '\n' || category == UTF8PROC_CATEGORY_ZL || category == UTF8PROC_CATEGORY_ZP;
}

}  // namespace

std::size_t display_width(std::string_view text) {
  std::size_t width = 0;
  for (std::size_t at = 0; at < text.size();) {
    const Character next = character_at(text, at);
    width += width_of(next);
    at += next.bytes;
  }
  return width;
}

std::size_t fitting_bytes(std::string_view text, std::size_t width) {
  std::size_t at = 0, used = 0;
  while (at < text.size()) {
    const Character next = character_at(text, at);
    used += width_of(next);
    if (used > width && at > 0) break;
    at += next.bytes;
  }
  return at;
}

std::string printable(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const Character next = character_at(text, at);
    if (next.code == '\t' || ends_line(next.code)) {
      out += ' ';
    } else if (next.code == kReplacement || turns_direction(next.code) ||
               utf8proc_category(next.code) == UTF8PROC_CATEGORY_CC) {
      out += "\uFFFD";
    } else {
      out += text.substr(at, next.bytes);
    }
    at += next.bytes;
  }
  return out;
}

}  // namespace dullspell
