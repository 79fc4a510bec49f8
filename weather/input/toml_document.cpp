#include <fmt/format.h>

#include "weather/input/input_error.hpp"
#include "weather/input/toml_node.hpp"
#include "weather/input/toml_setting.hpp"

namespace dullspell {
namespace {

InputError not_toml(const SourceText& source, const toml::parse_error& error) {
  InputProblem p;
  p.file = source.name;
  p.line = static_cast<int>(error.source().begin.line);
  p.column = static_cast<int>(error.source().begin.column);
  p.problem = fmt::format("is not valid TOML: {}", error.description());
  const auto about = [&](std::string_view what) {
    return error.description().find(what) != std::string_view::npos;
  };
  if (about("inline table")) {
    p.fix =
        "A table in braces stays on one line; a longer one is written as a table of its own, e.g. "
        "[camp.place] under its [[camp]].";
  } else if (about("date")) {
    p.fix = "Dates read 2027-05-21T15:00:00; check that this one exists.";
  } else {
    p.fix = "A line reads `key = value`; text stands in \"quotes\", a table begins with [name].";
  }
  p.source_line = source.line(p.line);
  return InputError(std::move(p));
}

}  // namespace

TomlDocument::TomlDocument(SourceText source, const std::vector<std::string>& settings)
    : source_(std::move(source)) {
  auto root = std::make_unique<Root>();
  try {
    root->table = toml::parse(source_.text, source_.name);
  } catch (const toml::parse_error& error) {
    throw not_toml(source_, error);
  }
  for (const std::string& setting : settings) apply_setting(root->table, setting);
  root_ = std::move(root);
}

TomlDocument::~TomlDocument() = default;

}  // namespace dullspell
