#include "weather/random_stream.hpp"

#include <stdexcept>

namespace dullspell {

RandomStream::RandomStream(const DrawKey& key, std::uint32_t first_block)
    : key_{{static_cast<std::uint32_t>(key.seed), static_cast<std::uint32_t>(key.seed >> 32)}},
      counter_{{first_block, key.stay, key.day, static_cast<std::uint32_t>(key.purpose)}},
      words_{} {}

void RandomStream::refill() {
  if (spent_) throw std::length_error("random stream has no blocks left (2^32 blocks a key)");
  words_ = r123::Philox4x32{}(counter_, key_);
  next_word_ = 0;
  spent_ = ++counter_[0] == 0;
}

}  // namespace dullspell
