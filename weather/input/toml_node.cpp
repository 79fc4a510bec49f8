#include "weather/input/toml_node.hpp"

#include <cmath>

#include <fmt/format.h>

#include "weather/input/input_error.hpp"
#include "weather/input/utf8.hpp"

namespace dullspell {
namespace {

// What makes the number right where it is plain what was meant; else the cure of the key.
std::string number_cure(const toml::node& node, const Range& range, std::string_view fix) {
  if (const auto* text = node.as_string()) {
    const std::string& typed = text->get();
    const bool bare_point = typed.size() > 1 && typed[0] == '.' &&
                            typed.find_first_not_of("0123456789", 1) == std::string::npos;
    if (bare_point) return fmt::format("A digit stands before the point: 0{}.", typed);
    return fix.empty() ? "Write the number without quotes or unit." : std::string(fix);
  }
  const auto value = node.value<double>();
  const bool is_share = range.unit.empty() && range.low >= 0.0 && range.high <= 1.0;
  constexpr double kSurelyPercent = 5.0;
  if (value && is_share && *value >= kSurelyPercent && *value <= 100.0 * range.high &&
      *value >= 100.0 * range.low) {
    return fmt::format("{}{}A share: {:g} % is {:g}.", fix, fix.empty() ? "" : " ", *value,
                       *value / 100.0);
  }
  return std::string(fix);
}

}  // namespace

std::string dotted(const TomlTable& table, std::string_view key) {
  if (key.empty()) return table.path;
  return table.path.empty() ? std::string(key) : table.path + "." + std::string(key);
}

std::string shown(const toml::node& node) {
  if (const auto* text = node.as_string()) {
    constexpr std::size_t kLongest = 40;
    const std::string& value = text->get();
    return fmt::format("the text \"{}\"{}", utf8_slice(value, 0, kLongest),
                       value.size() > kLongest ? "…" : "");
  }
  if (const auto* whole = node.as_integer()) return fmt::format("{}", whole->get());
  if (const auto* real = node.as_floating_point()) return fmt::format("{}", real->get());
  if (const auto* flag = node.as_boolean()) return flag->get() ? "true" : "false";
  if (node.is_array()) return "a list";
  if (node.is_table()) return "a table";
  if (node.is_date()) return "a date";
  if (node.is_time()) return "a time of day";
  return "a date and time";
}

std::string range_text(const Range& range) {
  const bool no_top = std::isinf(range.high);
  std::string text = no_top ? fmt::format("{} or more", range.low)
                            : fmt::format("{} to {}", range.low, range.high);
  if (!range.unit.empty()) text += fmt::format(" ({})", range.unit);
  return text;
}

void fail_at(const TomlTable& table, std::string_view key, const toml::source_region& place,
             std::string problem, std::string allowed, std::string fix) {
  InputProblem p;
  p.key = dotted(table, key);
  // What a setting put in has no line of the file; its path says which setting it was.
  if (place.path && *place.path != table.document->source().name) {
    p.file = *place.path;
  } else {
    p.file = table.document->source().name;
    p.line = static_cast<int>(place.begin.line);
    p.column = static_cast<int>(place.begin.column);
    p.source_line = table.document->source().line(p.line);
  }
  p.problem = std::move(problem);
  p.allowed = std::move(allowed);
  p.fix = std::move(fix);
  throw InputError(std::move(p));
}

double checked_number(const TomlTable& table, std::string_view key, const toml::node& node,
                      const Range& range, std::string_view fix) {
  const auto value = node.is_number() ? node.value<double>() : std::nullopt;
  if (!value) {
    fail_at(table, key, node.source(), fmt::format("is {}, not a number", shown(node)),
            range_text(range), number_cure(node, range, fix));
  }
  if (!std::isfinite(*value) || *value < range.low || *value > range.high) {
    fail_at(table, key, node.source(), fmt::format("is {}", shown(node)), range_text(range),
            number_cure(node, range, fix));
  }
  return *value;
}

const toml::array& checked_array(const TomlTable& table, std::string_view key,
                                 const toml::node& node, std::string_view allowed,
                                 std::string_view fix) {
  const auto* array = node.as_array();
  if (!array) {
    fail_at(table, key, node.source(), fmt::format("is {}", shown(node)), std::string(allowed),
            std::string(fix));
  }
  return *array;
}

}  // namespace dullspell
