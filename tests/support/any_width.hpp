#pragma once

#include <sstream>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "reports/number_text.hpp"
#include "reports/text_writer.hpp"

namespace dullspell::test {

/// A text written for windows from the narrowest to a wide one: nothing is wider than its window,
/// and each of `always` stands in a line of its own or within one.
template <class Write>
void check_any_width(Write write, const std::vector<std::string>& always) {
  for (const std::size_t width : {TextStyle::kLeastWidth, std::size_t{40}, std::size_t{60},
                                  std::size_t{80}, TextStyle::kUsualWidth, std::size_t{110}}) {
    std::ostringstream out;
    write(out, TextStyle{width, false});
    const std::string text = out.str();
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      INFO(width << ": " << line);
      CHECK(display_width(line) <= width);
    }
    for (const auto& part : always) {
      INFO(width << ": " << text);
      CHECK(text.find(part) != std::string::npos);
    }
  }
}

}  // namespace dullspell::test
