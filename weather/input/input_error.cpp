#include "weather/input/input_error.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "weather/input/utf8.hpp"

namespace dullspell {
namespace {

constexpr int kShownColumns = 72;

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
    if (p.column > 0) {
      // Columns count letters; some of them are wide on a terminal.
      const auto before = static_cast<std::size_t>(p.column - first - 1);
      const std::string text = utf8_slice(shown + std::string(before, ' '), 0, before);
      out += fmt::format("       | {}^\n", std::string(display_width(text), ' '));
    }
  }
  if (!p.fix.empty()) out += "  " + printable(p.fix) + "\n";
  return out;
}

InputError::InputError(InputProblem problem)
    : problem_(std::move(problem)), text_(describe(problem_)) {}

}  // namespace dullspell
