#include <charconv>
#include <cstdint>
#include <limits>
#include <stdexcept>
#include <string_view>

#include "tests/support/reference_table.hpp"
#include "weather/random_stream.hpp"
#include "weather/standard_normal_pair.hpp"

namespace dullspell {
namespace {

// The i-th of several hexadecimal words with blanks between.
std::uint32_t hex_word(std::string_view words, std::size_t i) {
  std::uint32_t value = 0;
  const char* begin = words.data() + 9 * i;
  const auto [end, error] = std::from_chars(begin, begin + 8, value, 16);
  REQUIRE(error == std::errc{});
  REQUIRE(end == begin + 8);
  return value;
}

RandomStream stream_of(std::string_view counter, std::string_view key) {
  const std::uint64_t seed = hex_word(key, 0) | std::uint64_t{hex_word(key, 1)} << 32;
  return RandomStream({seed, hex_word(counter, 1), hex_word(counter, 2),
                       static_cast<DrawPurpose>(hex_word(counter, 3))},
                      hex_word(counter, 0));
}

TEST_CASE("Random streams reproduce the known answers of Philox4x32-10") {
  const SourceText source = reference_table("philox4x32_10.csv");
  CsvTable table(source, CsvDelimiter::comma,
                 {"counter_hex", "key_hex", "output_hex", "u53_a", "u53_b"});
  int rows = 0;
  while (table.next()) {
    INFO("counter " << table.text(0) << ", key " << table.text(1));
    RandomStream words = stream_of(table.text(0), table.text(1));
    for (std::size_t i = 0; i < 4; ++i) CHECK(words() == hex_word(table.text(2), i));

    // The normal pair takes its two 53-bit uniforms from the same four words; the table prints
    // enough digits to give back every bit.
    RandomStream again = stream_of(table.text(0), table.text(1));
    const NormalPair pair = StandardNormalPair{}(again);
    const auto bits = [&](std::size_t column) {
      return static_cast<std::uint64_t>(table.required_number(column) * 0x1p53);
    };
    const NormalPair expected = normal_pair_from_bits(bits(3), bits(4));
    CHECK(pair.first == expected.first);
    CHECK(pair.second == expected.second);
    ++rows;
  }
  CHECK(rows == 27);
}

TEST_CASE("A random stream runs on into the next block") {
  const DrawKey key{0x0123456789abcdef, 7, 3, DrawPurpose::test};
  RandomStream from_first(key), from_second(key, 1);
  for (int i = 0; i < 4; ++i) from_first();
  for (int i = 0; i < 8; ++i) CHECK(from_first() == from_second());
}

TEST_CASE("Every part of its key changes a random stream") {
  const auto first_word = [](const DrawKey& key) { return RandomStream(key)(); };
  const std::uint32_t base = first_word({1, 2, 3, DrawPurpose::weather});
  CHECK(base == first_word({1, 2, 3, DrawPurpose::weather}));
  CHECK(base != first_word({2, 2, 3, DrawPurpose::weather}));
  CHECK(base != first_word({1 + (std::uint64_t{1} << 32), 2, 3, DrawPurpose::weather}));
  CHECK(base != first_word({1, 3, 3, DrawPurpose::weather}));
  CHECK(base != first_word({1, 2, 4, DrawPurpose::weather}));
  CHECK(base != first_word({1, 2, 3, DrawPurpose::load}));
}

TEST_CASE("A random stream ends with an error before it repeats itself") {
  RandomStream last_block({1, 0, 0, DrawPurpose::test}, std::numeric_limits<std::uint32_t>::max());
  for (int i = 0; i < 4; ++i) CHECK_NOTHROW(last_block());
  CHECK_THROWS_AS(last_block(), std::length_error);
  CHECK_THROWS_AS(last_block(), std::length_error);
}

}  // namespace
}  // namespace dullspell
