#pragma once

#include <memory>
#include <set>
#include <string>
#include <string_view>

#include <toml++/toml.h>

#include "weather/input/toml_section.hpp"
#include "weather/input/unit_twin.hpp"

namespace dullspell {

// What the sources of TomlSection share; no others know the library.

struct TomlDocument::Root {
  toml::table table;
};

/// A table of a document, its name in messages and the keys that were looked up.
struct TomlTable {
  std::shared_ptr<const TomlDocument> document;
  const toml::table* nodes;
  std::string path;
  std::set<std::string, std::less<>> known{};
};

/// The node of a key, null if it is absent.
inline const toml::node* find(const TomlTable& table, std::string_view key) {
  return table.nodes->get(key);
}

/// The same, noting the key as known.
inline const toml::node* look_up(TomlTable& table, std::string_view key) {
  table.known.emplace(key);
  return find(table, key);
}

/// Put in by a setting, whatever the text says.
bool is_set(const TomlTable& table, const toml::node& node);

/// A key as it is given: in its metric unit, or as its twin in a US one.
struct TypedKey {
  std::string key;
  const toml::node* node;          ///< null if neither is there
  std::optional<UnitTwin> twin{};  ///< in whose unit the value is
};

/// Notes both keys as known. Throws InputError if both are given.
TypedKey look_up_typed(TomlTable& table, std::string_view key, std::string_view unit);

/// The name of a key in messages, with the tables that hold it; of the table itself without a key.
std::string dotted(const TomlTable& table, std::string_view key);

/// A value as messages show it.
std::string shown(const toml::node& node);

std::string range_text(const Range& range);

/// The same in the unit in which the key is given.
std::string range_text(const Range& range, const TypedKey& key);

/// Throws InputError about a place in the text, or in the setting that put it there.
[[noreturn]] void fail_at(const TomlTable& table, std::string_view key,
                          const toml::source_region& place, std::string problem,
                          std::string allowed, std::string fix);

// Each throws InputError at the node if it does not fit.
/// In the range's unit, whatever was typed.
double checked_number(const TomlTable& table, const TypedKey& key, const toml::node& node,
                      const Range& range, std::string_view fix);
const toml::array& checked_array(const TomlTable& table, std::string_view key,
                                 const toml::node& node, std::string_view allowed,
                                 std::string_view fix);

}  // namespace dullspell
