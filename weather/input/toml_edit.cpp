#include "weather/input/toml_edit.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>
#include <toml++/toml.h>

#include "weather/input/text_pieces.hpp"

namespace dullspell {
namespace {

// Where the library says that something is; its columns count characters.
std::size_t place_in(std::string_view text, const toml::source_position& position) {
  std::size_t at = 0;
  for (toml::source_index line = 1; line < position.line; ++line) at = text.find('\n', at) + 1;
  for (toml::source_index column = 1; column < position.column; ++column) {
    do ++at;
    while (at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0) == 0x80);
  }
  return at;
}

// Where a line's own text ends.
std::size_t end_of_line(std::string_view text, std::size_t at) {
  const std::size_t end = std::min(text.find('\n', at), text.size());
  return end > at && text[end - 1] == '\r' ? end - 1 : end;
}

const toml::table* table_of(const toml::table& root, const TomlEdit& edit) {
  const toml::node* node = root.get(edit.table);
  if (edit.number > 0) {
    const toml::array* list = node ? node->as_array() : nullptr;
    node = list && edit.number <= list->size() ? list->get(edit.number - 1) : nullptr;
  }
  return node ? node->as_table() : nullptr;
}

// A piece of the text, and what takes its place.
struct Change {
  std::size_t from, to;
  std::string with;
};

// Behind what a line says.
std::string was(std::string_view rest_of_line, std::string_view before) {
  const bool has_comment = rest_of_line.find('#') != std::string_view::npos;
  return has_comment ? fmt::format(" (was {})", before) : fmt::format("  # was {}", before);
}

}  // namespace

std::string with_edits(std::string text, const std::vector<TomlEdit>& edits) {
  const toml::table root = toml::parse(text);
  const std::string_view source = text;
  std::vector<Change> changes;
  std::map<std::string, std::string> added;
  for (const TomlEdit& edit : edits) {
    const toml::table* table = table_of(root, edit);
    if (!table) {
      if (edit.number == 0) added[edit.table] += fmt::format("{} = {}\n", edit.key, edit.value);
      continue;
    }
    const std::string stated =
        table->contains(edit.key) || !table->contains(edit.instead_of) ? edit.key : edit.instead_of;
    if (const toml::node* node = table->get(stated)) {
      const std::size_t from = place_in(source, node->source().begin);
      const std::size_t to = place_in(source, node->source().end);
      const std::size_t end = end_of_line(source, to);
      const std::string before(source.substr(from, to - from));
      changes.push_back({from, to, edit.value});
      changes.push_back({end, end,
                         was(source.substr(to, end - to),
                             stated == edit.key ? before : stated + " = " + before)});
      if (stated != edit.key) {
        const std::size_t key = source.rfind(stated, from);
        changes.push_back({key, key + stated.size(), edit.key});
      }
      continue;
    }
    const std::size_t end = end_of_line(source, place_in(source, table->source().begin));
    changes.push_back({end, end, fmt::format("\n{} = {}", edit.key, edit.value)});
  }
  // From behind, so that places before stay; of those at one place the last first.
  std::stable_sort(changes.begin(), changes.end(),
                   [](const Change& a, const Change& b) { return a.from < b.from; });
  for (auto change = changes.rbegin(); change != changes.rend(); ++change) {
    text.replace(change->from, change->to - change->from, change->with);
  }
  if (!added.empty() && !text.empty() && text.back() != '\n') text += '\n';
  for (const auto& [table, keys] : added) text += fmt::format("\n[{}]\n{}", table, keys);
  return text;
}

std::string with_list_as_comments(const std::string& text, std::string_view list) {
  std::string out;
  bool in_list = false;
  std::string_view rest = text;
  while (!rest.empty()) {
    const std::string_view line = cut_piece(rest, '\n');
    const auto first = line.find_first_not_of(" \t");
    if (first != std::string_view::npos && line[first] == '[') {
      in_list = line.substr(first).starts_with(fmt::format("[[{}]]", list));
    }
    if (in_list && first != std::string_view::npos && line[first] != '#' && line[first] != '\r') {
      out += "# ";
    }
    out += line;
    out += '\n';
  }
  return out;
}

}  // namespace dullspell
