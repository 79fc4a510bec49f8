#pragma once

#include <cstdint>
#include <limits>

#include <Random123/philox.h>

namespace dullspell {

/// What a draw is for. One registry for the whole program, so that no two uses share a stream;
/// numbers are part of the results and never change. Gaps leave room for growth.
enum class DrawPurpose : std::uint32_t {
  year = 0x10,     ///< what all days of one stay share
  weather = 0x20,  ///< clearness and temperature of one day
  load = 0x30,     ///< how much the people of one day use
  climate = 0x40,  ///< which alternative climates a place is given
  guess = 0x50,    ///< how far what people guessed is off
  test = 0xF0,     ///< draws that only tests make
};

/// Which stream of random numbers a draw belongs to.
struct DrawKey {
  std::uint64_t seed;
  std::uint32_t stay;
  std::uint32_t day;  ///< days since the first that is simulated: arrival, or now
  DrawPurpose purpose;
};

/// Stream of 32-bit words keyed by what the draw is for, not by who draws it: the same key gives
/// the same words in any thread and any order. Philox4x32-10 (Salmon, Moraes, Dror & Shaw 2011,
/// doi:10.1145/2063384.2063405) with key (seed low, seed high) and counter (block, stay, day,
/// purpose); models Boost.Random's uniform random number generator.
class RandomStream {
 public:
  using result_type = std::uint32_t;
  static constexpr bool has_fixed_range = false;

  /// Starts at word 0 of block `first_block`; a block is four words.
  explicit RandomStream(const DrawKey& key, std::uint32_t first_block = 0);

  static constexpr result_type min() { return 0; }
  static constexpr result_type max() { return std::numeric_limits<result_type>::max(); }

  /// Next word. Throws std::length_error after 2^32 blocks, before any word repeats.
  result_type operator()() {
    if (next_word_ == 4) refill();
    return words_[next_word_++];
  }

 private:
  void refill();

  r123::Philox4x32::key_type key_;
  r123::Philox4x32::ctr_type counter_;
  r123::Philox4x32::ctr_type words_;
  unsigned next_word_ = 4;
  bool spent_ = false;
};

}  // namespace dullspell
