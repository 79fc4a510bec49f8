#include "weather/input/utf8.hpp"

#include <catch2/catch.hpp>

namespace dullspell {
namespace {

// Widths of Unicode Standard Annex 11 (EastAsianWidth.txt: W and F are wide) and, for emoji, of
// Unicode Technical Standard 51 (emoji presentation is wide).
TEST_CASE("Width is that on a terminal: wide letters take two columns, combining marks none") {
  CHECK(display_width("") == 0);
  CHECK(display_width("camp") == 4);
  CHECK(display_width("1–2 °C") == 6);
  CHECK(display_width("森の中") == 6);
  CHECK(display_width("캠프") == 4);
  CHECK(display_width("Ａ") == 2);          // U+FF21, fullwidth
  CHECK(display_width("ｱ") == 1);           // U+FF71, halfwidth
  CHECK(display_width("🏕") == 1);        // U+1F3D5: text presentation unless a selector follows
  CHECK(display_width("🔋") == 2);           // U+1F50B: emoji presentation
  CHECK(display_width("e\u0301") == 1);     // combining acute accent
  CHECK(display_width("a\u200Bb") == 2);    // zero width space
  CHECK(display_width("█▏░") == 3);         // the bars' own characters
  CHECK(display_width("a\xFF\xC3z") == 4);  // bytes that are no UTF-8
}

TEST_CASE("The beginning that fits keeps characters and their marks whole") {
  CHECK(fitting_bytes("", 3) == 0);
  CHECK(fitting_bytes("abcdef", 3) == 3);
  CHECK(fitting_bytes("abc", 9) == 3);
  CHECK(fitting_bytes("e\u0301e\u0301", 1) == 3);
  CHECK(fitting_bytes("森の中", 5) == 6);
  CHECK(fitting_bytes("森の中", 1) == 3);  // something must go on
}

TEST_CASE("What could drive a terminal is replaced, letter by letter") {
  CHECK(printable("two camps, 1–2 °C, 森, 🔋") == "two camps, 1–2 °C, 森, 🔋");
  CHECK(printable("a\x1b[31mb") == "a\uFFFD[31mb");
  CHECK(printable(std::string_view("a\0b\x7f", 4)) == "a\uFFFDb\uFFFD");
  CHECK(printable("a\u009B31mb") == "a\uFFFD31mb");  // one character that begins a sequence, too
  CHECK(printable("a\u202Eb\u2066c") == "a\uFFFDb\uFFFDc");
  CHECK(printable("a\tb\nc\u2028d") == "a b c d");
  CHECK(printable("a\r\nb") == "a\uFFFD b");
  CHECK(printable("a\xFF\xC3z") == "a\uFFFD\uFFFDz");
  CHECK(printable("\xE2\x82") == "\uFFFD\uFFFD");  // cut short
}

}  // namespace
}  // namespace dullspell
