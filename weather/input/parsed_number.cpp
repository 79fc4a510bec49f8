#include "weather/input/parsed_number.hpp"

#include <fast_float/fast_float.h>

namespace dullspell {

std::optional<double> parsed_number(std::string_view text) {
  double value = 0.0;
  const char* end = text.data() + text.size();
  const auto read = fast_float::from_chars(text.data(), end, value);
  if (read.ec != std::errc{} || read.ptr != end) return std::nullopt;
  return value;
}

}  // namespace dullspell
