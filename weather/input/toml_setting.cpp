#include "weather/input/toml_setting.hpp"

#include <algorithm>
#include <charconv>
#include <optional>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "weather/input/input_error.hpp"
#include "weather/input/text_pieces.hpp"

namespace dullspell {
namespace {

struct KeyStep {
  std::string key;
  std::optional<std::size_t> number;  // of a table in a list, from 1
};

[[noreturn]] void refuse(const std::string& setting, std::string problem, std::string allowed,
                         std::string fix = "") {
  InputProblem p;
  p.file = setting_name(setting);
  p.problem = std::move(problem);
  p.allowed = std::move(allowed);
  p.fix = std::move(fix);
  throw InputError(std::move(p));
}

KeyStep key_step(const std::string& setting, std::string_view text) {
  constexpr std::string_view kForm = "a key such as accept_risk, battery.health or camp[1].canopy";
  KeyStep step;
  const auto bracket = text.find('[');
  step.key = text.substr(0, bracket);
  const bool bare = !step.key.empty() && std::all_of(step.key.begin(), step.key.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '-';
  });
  if (!bare) refuse(setting, fmt::format("has no key in `{}`", text), std::string(kForm));
  if (bracket == std::string_view::npos) return step;
  std::size_t number = 0;
  const char* begin = text.data() + bracket + 1;
  const char* end = text.data() + text.size() - 1;
  const auto [stop, error] = std::from_chars(begin, end, number);
  if (text.back() != ']' || error != std::errc{} || stop != end || number == 0) {
    refuse(setting, fmt::format("has no number from 1 in `{}`", text), std::string(kForm),
           "Tables of a list are counted from 1: camp[1] is the first camp.");
  }
  step.number = number;
  return step;
}

std::vector<KeyStep> key_steps(const std::string& setting, std::string_view path) {
  std::vector<KeyStep> steps;
  while (true) {
    const auto dot = path.find('.');
    steps.push_back(key_step(setting, trimmed(path.substr(0, dot))));
    if (dot == std::string_view::npos) return steps;
    path.remove_prefix(dot + 1);
  }
}

// The value as a table of the one entry `value`, whose nodes know where they come from.
std::optional<toml::table> parsed(const std::string& setting, std::string_view value) {
  try {
    toml::table table = toml::parse(fmt::format("value = {}", value), setting_name(setting));
    if (table.size() == 1) return table;
  } catch (const toml::parse_error&) {
  }
  return std::nullopt;
}

toml::table parsed_value(const std::string& setting, std::string_view text) {
  if (text.empty()) {
    refuse(setting, "has no value", "key=value", "Text may be empty in quotes: key='\"\"'.");
  }
  if (auto table = parsed(setting, text)) return std::move(*table);
  const bool word = std::none_of(text.begin(), text.end(), [](char c) {
    return std::string_view("\"'[]{}#=\\").find(c) != std::string_view::npos ||
           static_cast<unsigned char>(c) < 0x20;
  });
  if (word) {
    if (auto table = parsed(setting, fmt::format("\"{}\"", text))) return std::move(*table);
  }
  refuse(setting, fmt::format("gives `{}`, which is no TOML value", text),
         "a number, a word, text in \"quotes\", a date, a list or a table in braces",
         "Put the whole option in single quotes, so that the shell leaves the others alone.");
}

toml::key key_of(const std::string& setting, const std::string& name) {
  const auto path = std::make_shared<const std::string>(setting_name(setting));
  return toml::key(name, toml::source_region{{1, 1}, {1, 1}, path});
}

void put(toml::table& table, toml::key key, toml::node& value) {
  // Moved, since a copy forgets its source.
  value.visit([&](auto& node) { table.insert_or_assign(std::move(key), std::move(node)); });
}

toml::table& empty_table_at(toml::table& table, const std::string& setting,
                            const std::string& key) {
  toml::table made = *parsed(setting, "{}");
  put(table, key_of(setting, key), *made.get("value"));
  return *table.get_as<toml::table>(key);
}

toml::table& numbered_table(toml::table& table, const std::string& setting, const KeyStep& step) {
  if (!table.contains(step.key)) {
    toml::table made = *parsed(setting, "[]");
    put(table, key_of(setting, step.key), *made.get("value"));
  }
  auto* list = table.get_as<toml::array>(step.key);
  if (!list) refuse(setting, fmt::format("counts `{}`, which is not a list", step.key), "");
  const std::size_t size = list->size();
  if (*step.number > size + 1) {
    refuse(setting, fmt::format("asks for {}[{}] of {}", step.key, *step.number, size),
           size == 0 ? "1, to add the first"
                     : fmt::format("1 to {}, or {} to add one", size, size + 1));
  }
  if (*step.number == size + 1) {
    toml::table made = *parsed(setting, "{}");
    list->push_back(std::move(*made.get_as<toml::table>("value")));
  }
  auto* entry = list->get_as<toml::table>(*step.number - 1);
  if (!entry) refuse(setting, fmt::format("looks for a table in the list `{}`", step.key), "");
  return *entry;
}

toml::table& named_table(toml::table& table, const std::string& setting, const std::string& key) {
  const toml::node* node = table.get(key);
  if (node && node->is_array()) {
    refuse(setting, fmt::format("does not say which `{}`", key),
           fmt::format("{}[1], {}[2], …", key, key));
  }
  if (node && !node->is_table()) {
    refuse(setting, fmt::format("looks for a key in `{}`, which is not a table", key), "");
  }
  return node ? *table.get_as<toml::table>(key) : empty_table_at(table, setting, key);
}

}  // namespace

std::string setting_name(const std::string& setting) {
  return "command line: --set " + setting;
}

void apply_setting(toml::table& root, const std::string& setting) {
  const auto equals = setting.find('=');
  if (equals == std::string::npos) {
    refuse(setting, "has no `=`", "key=value, such as battery.start_charge=0.55");
  }
  const auto steps = key_steps(setting, std::string_view(setting).substr(0, equals));
  toml::table value = parsed_value(setting, trimmed(std::string_view(setting).substr(equals + 1)));
  if (steps.back().number) {
    refuse(setting, fmt::format("ends in `{}[{}]`", steps.back().key, *steps.back().number),
           "a key after the number, such as camp[1].canopy=0.3", "A list is set as a whole.");
  }
  toml::table* table = &root;
  for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
    table = steps[i].number ? &numbered_table(*table, setting, steps[i])
                            : &named_table(*table, setting, steps[i].key);
  }
  put(*table, key_of(setting, steps.back().key), *value.get("value"));
}

}  // namespace dullspell
