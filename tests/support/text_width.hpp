#pragma once

#include <algorithm>
#include <sstream>
#include <string>

#include "reports/number_text.hpp"

namespace dullspell::test {

/// Characters of the widest line.
inline std::size_t widest_line(const std::string& text) {
  std::istringstream in(text);
  std::size_t widest = 0;
  for (std::string line; std::getline(in, line);) widest = std::max(widest, display_width(line));
  return widest;
}

/// The text with its lines joined, so that a sentence is found wherever it is broken.
inline std::string one_line(const std::string& text) {
  std::istringstream in(text);
  std::string out;
  for (std::string word; in >> word;) out += (out.empty() ? "" : " ") + word;
  return out;
}

}  // namespace dullspell::test
