#include "cli/terminal.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <cstdlib>
#include <string_view>

namespace dullspell {
namespace {

constexpr std::size_t kMostWidth = 110, kUnknownWidth = 80;

std::string_view variable(const char* name) {
  const char* value = std::getenv(name);
  return value ? value : "";
}

// 0 where it is not a whole number.
std::size_t columns_variable() {
  const std::string_view text = variable("COLUMNS");
  std::size_t columns = 0;
  const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), columns);
  return error == std::errc{} && stop == text.data() + text.size() ? columns : 0;
}

}  // namespace

std::optional<std::size_t> terminal_width(int descriptor) {
  if (isatty(descriptor) != 1) return std::nullopt;
  std::size_t columns = columns_variable();
  winsize window{};
  if (columns == 0 && ioctl(descriptor, TIOCGWINSZ, &window) == 0) columns = window.ws_col;
  if (columns == 0) columns = kUnknownWidth;
  return std::clamp(columns, TextStyle::kLeastWidth, kMostWidth);
}

bool terminal_takes_escapes() {
  const std::string_view kind = variable("TERM");
  return !kind.empty() && kind != "dumb";
}

TextStyle standard_output_style() {
  TextStyle style;
  const auto width = terminal_width(STDOUT_FILENO);
  if (!width) return style;
  style.width = *width;
  style.colour = terminal_takes_escapes() && variable("NO_COLOR").empty();
  return style;
}

}  // namespace dullspell
