#include <algorithm>

#include <fmt/format.h>

#include "weather/input/nearest_word.hpp"
#include "weather/input/toml_node.hpp"

namespace dullspell {
namespace {

std::string quoted(const std::vector<std::string>& words) {
  std::string out;
  for (const auto& word : words) out += (out.empty() ? "\"" : ", \"") + word + "\"";
  return out;
}

}  // namespace

std::optional<double> TomlSection::number(std::string_view key, const Range& range,
                                          std::string_view fix) {
  const TypedKey typed = look_up_typed(*table_, key, range.unit);
  if (!typed.node) return std::nullopt;
  return checked_number(*table_, typed, *typed.node, range, fix);
}

double TomlSection::number_or(std::string_view key, double otherwise, const Range& range,
                              std::string_view fix) {
  return number(key, range, fix).value_or(otherwise);
}

double TomlSection::required_number(std::string_view key, const Range& range,
                                    std::string_view fix) {
  const auto value = number(key, range, fix);
  if (!value) {
    const auto twin = unit_twin(key, range.unit);
    fail(key, "is missing", range_text(range) + (twin ? ", or " + twin->key : ""),
         std::string(fix));
  }
  return *value;
}

std::optional<int> TomlSection::integer(std::string_view key, int low, int high,
                                        std::string_view fix) {
  const toml::node* node = look_up(*table_, key);
  if (!node) return std::nullopt;
  const auto* whole = node->as_integer();
  if (!whole || whole->get() < low || whole->get() > high) {
    fail_at(*table_, key, node->source(), fmt::format("is {}", shown(*node)),
            fmt::format("a whole number from {} to {}", low, high), std::string(fix));
  }
  return static_cast<int>(whole->get());
}

std::optional<bool> TomlSection::flag(std::string_view key) {
  const toml::node* node = look_up(*table_, key);
  if (!node) return std::nullopt;
  if (const auto* value = node->as_boolean()) return value->get();
  fail_at(*table_, key, node->source(), fmt::format("is {}", shown(*node)), "true or false", "");
}

std::optional<std::string> TomlSection::text(std::string_view key) {
  const toml::node* node = look_up(*table_, key);
  if (!node) return std::nullopt;
  if (const auto* value = node->as_string()) return value->get();
  fail_at(*table_, key, node->source(), fmt::format("is {}, not text", shown(*node)),
          "text in \"quotes\"", "");
}

std::string TomlSection::required_text(std::string_view key, std::string_view fix) {
  auto value = text(key);
  if (!value) fail(key, "is missing", "text in \"quotes\"", std::string(fix));
  return *value;
}

std::optional<std::string> TomlSection::choice(std::string_view key,
                                               const std::vector<std::string>& words) {
  const auto value = text(key);
  if (!value) return std::nullopt;
  if (std::find(words.begin(), words.end(), *value) != words.end()) return value;
  fail(key, fmt::format("is \"{}\"", *value), quoted(words), did_you_mean(*value, words, '"'));
}

std::optional<std::vector<std::string>> TomlSection::choices(
    std::string_view key, const std::vector<std::string>& words) {
  const toml::node* node = look_up(*table_, key);
  if (!node) return std::nullopt;
  const std::string allowed = "a list of " + quoted(words);
  std::vector<std::string> out;
  for (const toml::node& entry : checked_array(*table_, key, *node, allowed, "")) {
    const auto* word = entry.as_string();
    if (!word || std::find(words.begin(), words.end(), word->get()) == words.end()) {
      fail_at(*table_, key, entry.source(), fmt::format("holds {}", shown(entry)), allowed,
              word ? did_you_mean(word->get(), words, '"') : "");
    }
    out.push_back(word->get());
  }
  return out;
}

std::optional<std::vector<double>> TomlSection::numbers(std::string_view key, std::size_t count,
                                                        const Range& range, std::string_view fix) {
  const TypedKey typed = look_up_typed(*table_, key, range.unit);
  if (!typed.node) return std::nullopt;
  const std::string allowed =
      fmt::format("a list of {} numbers, each {}", count, range_text(range, typed));
  const toml::array& array = checked_array(*table_, typed.key, *typed.node, allowed, fix);
  if (array.size() != count) {
    fail_at(*table_, typed.key, typed.node->source(), fmt::format("has {} entries", array.size()),
            allowed, std::string(fix));
  }
  std::vector<double> out;
  for (const toml::node& entry : array)
    out.push_back(checked_number(*table_, typed, entry, range, fix));
  return out;
}

std::optional<std::vector<std::vector<double>>> TomlSection::number_rows(
    std::string_view key, const std::vector<Range>& columns, std::string_view fix) {
  const TypedKey first = look_up_typed(*table_, key, columns.front().unit);
  if (!first.node) return std::nullopt;
  const TypedKey others{first.key, first.node};
  std::vector<std::string> ranges;
  for (const Range& column : columns) {
    ranges.push_back(range_text(column, &column == &columns.front() ? first : others));
  }
  const bool alike = std::count(ranges.begin(), ranges.end(), ranges.front()) ==
                     static_cast<std::ptrdiff_t>(ranges.size());
  const std::string allowed =
      fmt::format("a list of lists of {} numbers, {}", columns.size(),
                  alike ? "each " + ranges.front() : fmt::format("{}", fmt::join(ranges, "; ")));
  std::vector<std::vector<double>> rows;
  for (const toml::node& entry : checked_array(*table_, first.key, *first.node, allowed, fix)) {
    const toml::array& cells = checked_array(*table_, first.key, entry, allowed, fix);
    if (cells.size() != columns.size()) {
      fail_at(*table_, first.key, entry.source(),
              fmt::format("has a row of {} entries", cells.size()), allowed, std::string(fix));
    }
    std::vector<double> row;
    for (const toml::node& cell : cells) {
      const TypedKey& column = row.empty() ? first : others;
      row.push_back(checked_number(*table_, column, cell, columns[row.size()], fix));
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace dullspell
