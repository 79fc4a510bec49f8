#include "weather/input/toml_section.hpp"

#include <array>

#include <fmt/format.h>

#include "weather/input/nearest_word.hpp"
#include "weather/input/toml_node.hpp"

namespace dullspell {
namespace {

// A key that is known in another unit: capacity_kwh where capacity_wh is.
template <class Known>
std::string other_unit_cure(std::string_view typed, const Known& known) {
  struct Unit {
    std::string_view typed, known, name;
  };
  constexpr std::array kUnits{Unit{"_kwh", "_wh", "Wh"}, Unit{"_kw", "_w", "W"}};
  for (const Unit& unit : kUnits) {
    if (!typed.ends_with(unit.typed)) continue;
    const std::string key =
        std::string(typed.substr(0, typed.size() - unit.typed.size())) + std::string(unit.known);
    if (known.count(key) > 0) return fmt::format("Write it as `{}`, in {}.", key, unit.name);
  }
  return "";
}

// A key that is missing may stand there misspelt: that is then the better message.
void report_misspelt(const TomlTable& table, std::string_view key) {
  // Closer than usual, since keys that are looked up later are not known yet.
  constexpr int kFarthest = 2;
  constexpr std::size_t kLeastBeginning = 3;
  const std::vector<std::string> wanted{std::string(key)};
  const auto meant = [&](std::string_view typed) {
    return nearest_word(typed, wanted, kFarthest) ||
           (typed.size() >= kLeastBeginning && key.starts_with(typed));
  };
  for (const auto& [typed, value] : *table.nodes) {
    if (table.known.count(typed.str()) == 0 && meant(typed.str())) {
      fail_at(table, typed.str(), typed.source(), "is not a known key", "",
              fmt::format("Did you mean `{}`?", key));
    }
  }
}

}  // namespace

TomlSection::TomlSection(std::unique_ptr<TomlTable> table) : table_(std::move(table)) {}
TomlSection::TomlSection(TomlSection&&) noexcept = default;
TomlSection& TomlSection::operator=(TomlSection&&) noexcept = default;
TomlSection::~TomlSection() = default;

TomlSection TomlSection::root_of(std::shared_ptr<const TomlDocument> document) {
  const toml::table& root = document->root().table;
  return section_of({std::move(document), &root, ""});
}

TomlSection TomlSection::section_of(TomlTable table) {
  return TomlSection(std::make_unique<TomlTable>(std::move(table)));
}

const std::string& TomlSection::path() const {
  return table_->path;
}

const TomlDocument& TomlSection::document() const {
  return *table_->document;
}

void TomlSection::fail(std::string_view key, std::string problem, std::string allowed,
                       std::string fix) const {
  const toml::node* node = find(*table_, key);
  if (!node) report_misspelt(*table_, key);
  // The root table has a position of its own (the first line), which would only mislead.
  const toml::source_region nowhere{};
  const toml::source_region& place = node                   ? node->source()
                                     : table_->path.empty() ? nowhere
                                                            : table_->nodes->source();
  fail_at(*table_, key, place, std::move(problem), std::move(allowed), std::move(fix));
}

void TomlSection::fail_here(std::string problem, std::string allowed, std::string fix) const {
  fail_at(*table_, "", table_->path.empty() ? toml::source_region{} : table_->nodes->source(),
          std::move(problem), std::move(allowed), std::move(fix));
}

bool TomlSection::has(std::string_view key) const {
  return find(*table_, key) != nullptr;
}

void TomlSection::refuse(std::string_view key, std::string problem, std::string allowed,
                         std::string fix) {
  if (look_up(*table_, key)) fail(key, std::move(problem), std::move(allowed), std::move(fix));
}

bool TomlSection::set_on_command_line(std::string_view key) const {
  const toml::node* node = find(*table_, key);
  return node && is_set(*table_, *node);
}

bool TomlSection::is_table(std::string_view key) const {
  const auto* node = find(*table_, key);
  return node && node->is_table();
}

bool TomlSection::is_array(std::string_view key) const {
  const auto* node = find(*table_, key);
  return node && node->is_array();
}

bool TomlSection::is_text(std::string_view key) const {
  const auto* node = find(*table_, key);
  return node && node->is_string();
}

bool TomlSection::holds_lists(std::string_view key) const {
  const auto* node = find(*table_, key);
  const auto* array = node ? node->as_array() : nullptr;
  return array && !array->empty() && array->front().is_array();
}

std::string TomlSection::typed_key(std::string_view key, std::string_view unit) {
  return look_up_typed(*table_, key, unit).key;
}

std::optional<TomlSection> TomlSection::section(std::string_view key) {
  const toml::node* node = look_up(*table_, key);
  if (!node) return std::nullopt;
  if (const auto* table = node->as_table())
    return section_of({table_->document, table, dotted(*table_, key)});
  fail_at(*table_, key, node->source(), fmt::format("is {}", shown(*node)),
          fmt::format("a table, written [{}]", dotted(*table_, key)),
          node->is_array() ? fmt::format("There can be only one: write [{0}], not [[{0}]].",
                                         dotted(*table_, key))
                           : "");
}

std::vector<TomlSection> TomlSection::sections(std::string_view key) {
  const toml::node* node = look_up(*table_, key);
  std::vector<TomlSection> out;
  if (!node) return out;
  const std::string allowed = fmt::format("tables, each written [[{}]]", dotted(*table_, key));
  if (node->is_table()) {
    fail_at(
        *table_, key, node->source(), "is a single table", allowed,
        fmt::format("Write [[{}]] with two brackets: there may be several.", dotted(*table_, key)));
  }
  int number = 0;
  for (const toml::node& entry : checked_array(*table_, key, *node, allowed, "")) {
    ++number;
    const auto* table = entry.as_table();
    if (!table)
      fail_at(*table_, key, entry.source(), fmt::format("holds {}", shown(entry)), allowed, "");
    out.push_back(
        section_of({table_->document, table, fmt::format("{}[{}]", dotted(*table_, key), number)}));
  }
  return out;
}

void TomlSection::finish() const {
  for (const auto& [key, value] : *table_->nodes) {
    if (table_->known.count(key.str()) > 0) continue;
    const std::vector<std::string> words(table_->known.begin(), table_->known.end());
    std::string fix = other_unit_cure(key.str(), table_->known);
    if (fix.empty()) fix = did_you_mean(key.str(), words);
    if (fix.empty()) {
      fix = "Known here: ";
      for (std::size_t i = 0; i < words.size(); ++i) fix += (i ? ", " : "") + words[i];
      fix += ".";
    }
    fail_at(*table_, key.str(), key.source(), "is not a known key", "", fix);
  }
}

}  // namespace dullspell
