#include "weather/input/input_error.hpp"

#include <algorithm>
#include <string_view>

#include <fmt/format.h>

#include "weather/input/utf8.hpp"

namespace dullspell {
namespace {

constexpr int kShownColumns = 72;

// Control bytes would garble a terminal; a tab would move the caret away from its column.
std::string printable(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    out += byte == '\t' ? ' ' : (byte < 0x20 || byte == 0x7f) ? '?' : c;
  }
  return out;
}

}  // namespace

std::string describe(const InputProblem& p) {
  std::string out = printable(p.file);
  if (p.line > 0) out += fmt::format(":{}", p.line);
  if (p.line > 0 && p.column > 0) out += fmt::format(":{}", p.column);
  out += ": ";
  if (!p.key.empty()) out += printable(p.key) + " ";
  out += printable(p.problem);
  if (!p.allowed.empty()) out += "; allowed: " + printable(p.allowed);
  out += '\n';
  if (p.line > 0 && !p.source_line.empty()) {
    const int first = std::max(0, p.column - kShownColumns + 10);
    const std::string shown =
        utf8_slice(printable(p.source_line), static_cast<std::size_t>(first), kShownColumns);
    out += fmt::format("{:>6} | {}\n", p.line, shown);
    if (p.column > 0) out += fmt::format("       | {:>{}}\n", "^", p.column - first);
  }
  if (!p.fix.empty()) out += "  " + printable(p.fix) + "\n";
  return out;
}

InputError::InputError(InputProblem problem)
    : problem_(std::move(problem)), text_(describe(problem_)) {}

}  // namespace dullspell
