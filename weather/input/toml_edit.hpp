#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace dullspell {

/// A value to be written into a TOML text: `table.key = value`, or that of the table numbered from
/// 1 in the list `table`.
struct TomlEdit {
  std::string table;
  std::size_t number = 0;  ///< of the table in its list; 0, it is in none
  std::string key;
  std::string value;            ///< as TOML
  std::string instead_of = {};  ///< a key of the same table in whose place this one stands
};

/// The text with values changed where they stand, each with what it was behind it, and added below
/// the head of their table, or at the end, where they do not. All else stays, comments too. The
/// text must be TOML. Tables in braces get no new keys: read the text again to see whether all is
/// in it.
std::string with_edits(std::string text, const std::vector<TomlEdit>& edits);

/// The text with the tables [[list]] made comments, each up to the next line that begins a table.
std::string with_list_as_comments(const std::string& text, std::string_view list);

}  // namespace dullspell
