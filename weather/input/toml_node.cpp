#include "weather/input/toml_node.hpp"

#include <cmath>

#include <fmt/format.h>

#include "weather/input/input_error.hpp"
#include "weather/input/quantity_text.hpp"
#include "weather/input/utf8.hpp"

namespace dullspell {
namespace {

// What was typed for a number: its value in the range's unit, how messages show it, and its bounds.
struct TypedNumber {
  double value;
  std::string shown, allowed;
};

// A text in quotes, cut where it is long.
std::string in_quotes(const std::string& text) {
  constexpr std::size_t kLongest = 40;
  return fmt::format("\"{}\"{}", utf8_slice(text, 0, kLongest), text.size() > kLongest ? "…" : "");
}

std::optional<TypedNumber> typed_text(const std::string& text, const Range& range) {
  if (range.is_share()) {
    if (const auto percent = percent_in(text)) {
      return TypedNumber{*percent / 100.0, in_quotes(text),
                         fmt::format("{:g} to {:g} %", 100.0 * range.low, 100.0 * range.high)};
    }
  }
  if (range.unit == kHoursUnit) {
    if (const auto hours = hours_in(text)) {
      return TypedNumber{*hours, in_quotes(text), range_text(range)};
    }
  }
  return std::nullopt;
}

std::optional<TypedNumber> typed_number(const TypedKey& key, const toml::node& node,
                                        const Range& range) {
  if (const auto* text = node.as_string()) return typed_text(text->get(), range);
  const auto value = node.is_number() ? node.value<double>() : std::nullopt;
  if (!value) return std::nullopt;
  return TypedNumber{key.twin ? key.twin->unit.to_metric(*value) : *value, shown(node),
                     range_text(range, key)};
}

// What makes a text a number where it is plain what was meant; else the cure of the key.
std::string text_cure(const std::string& typed, const Range& range, std::string_view fix) {
  const bool bare_point = typed.size() > 1 && typed[0] == '.' &&
                          typed.find_first_not_of("0123456789", 1) == std::string::npos;
  if (bare_point) return fmt::format("A digit stands before the point: 0{}.", typed);
  if (percent_in(typed)) return "A percent is for shares: write a number here, without unit.";
  if (!fix.empty()) return std::string(fix);
  if (range.is_share()) return "Write a share as 0.41 or \"41 %\".";
  if (range.unit == kHoursUnit) {
    return "Write hours as 2.5, \"2:30\" or \"2 h 30 min\", or minutes as \"45 min\".";
  }
  return "Write the number without quotes or unit.";
}

// The cure of the key, and what a share that is given as a percent should be.
std::string bounds_cure(const toml::node& node, const Range& range, std::string_view fix) {
  const auto value = node.value<double>();
  constexpr double kSurelyPercent = 5.0;
  if (node.is_number() && value && range.is_share() && *value >= kSurelyPercent &&
      *value <= 100.0 * range.high && *value >= 100.0 * range.low) {
    return fmt::format("{}{}Did you mean {:g} or \"{:g} %\"?", fix, fix.empty() ? "" : " ",
                       *value / 100.0, *value);
  }
  return std::string(fix);
}

}  // namespace

std::string dotted(const TomlTable& table, std::string_view key) {
  if (key.empty()) return table.path;
  return table.path.empty() ? std::string(key) : table.path + "." + std::string(key);
}

std::string shown(const toml::node& node) {
  if (const auto* text = node.as_string()) return "the text " + in_quotes(text->get());
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

std::string range_text(const Range& range, const TypedKey& key) {
  return range_text(key.twin ? key.twin->shown(range) : range);
}

bool is_set(const TomlTable& table, const toml::node& node) {
  return node.source().path && *node.source().path != table.document->source().name;
}

TypedKey look_up_typed(TomlTable& table, std::string_view key, std::string_view unit) {
  TypedKey metric{std::string(key), look_up(table, key)};
  const auto twin = unit_twin(key, unit);
  if (!twin) return metric;
  TypedKey other{twin->key, look_up(table, twin->key), twin};
  if (!other.node) return metric;
  if (!metric.node || (is_set(table, *other.node) && !is_set(table, *metric.node))) return other;
  if (is_set(table, *metric.node) && !is_set(table, *other.node)) return metric;
  fail_at(table, other.key, other.node->source(), fmt::format("is given besides {}", key),
          "one of the two", "They say the same in two units: leave one out.");
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

double checked_number(const TomlTable& table, const TypedKey& key, const toml::node& node,
                      const Range& range, std::string_view fix) {
  const auto typed = typed_number(key, node, range);
  if (!typed) {
    const auto* text = node.as_string();
    fail_at(table, key.key, node.source(), fmt::format("is {}, not a number", shown(node)),
            range_text(range, key), text ? text_cure(text->get(), range, fix) : std::string(fix));
  }
  if (!std::isfinite(typed->value) || typed->value < range.low || typed->value > range.high) {
    fail_at(table, key.key, node.source(), fmt::format("is {}", typed->shown), typed->allowed,
            bounds_cure(node, range, fix));
  }
  return typed->value;
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
