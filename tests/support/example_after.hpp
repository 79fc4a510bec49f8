#pragma once

#include <string>

namespace dullspell::test {

/// The text between the first fence after a marker line and its end.
inline std::string example_after(const std::string& text, const std::string& marker) {
  const auto from = text.find("```", text.find(marker));
  const auto begin = text.find('\n', from) + 1;
  return text.substr(begin, text.find("```", begin) - begin);
}

}  // namespace dullspell::test
