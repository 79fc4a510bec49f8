#include "cli/command_parts.hpp"

#include <sstream>

namespace dullspell {

std::vector<const CLI::App*> shown_commands(const CLI::App& app) {
  return app.get_subcommands([](const CLI::App* command) { return !command->get_group().empty(); });
}

std::vector<const CLI::Option*> shown_options(const CLI::App& command) {
  return command.get_options([](const CLI::Option* option) {
    return option->nonpositional() && !option->get_group().empty();
  });
}

std::vector<const CLI::Option*> shown_positionals(const CLI::App& command) {
  return command.get_options([](const CLI::Option* option) {
    return option->get_positional() && !option->get_group().empty();
  });
}

std::vector<std::string> dashed_names(const CLI::Option& option) {
  std::vector<std::string> names;
  for (const auto& name : option.get_snames()) names.push_back("-" + name);
  for (const auto& name : option.get_lnames()) names.push_back("--" + name);
  return names;
}

ValueKind value_kind(const CLI::Option& option) {
  ValueKind kind;
  kind.taken = option.get_expected_max() != 0;
  if (!kind.taken) return kind;
  kind.repeats = option.get_expected_max() > 1;
  kind.file = option.get_positional() && option.get_name(true) == "FILE";
  for (const auto& word : CLI::detail::split(option.get_type_name(), '|')) {
    if (word == "FILE") kind.file = true;
    if (!word.empty() && word.front() >= 'a' && word.front() <= 'z') kind.choices.push_back(word);
  }
  return kind;
}

std::vector<FooterPart> footer_parts(const std::string& footer) {
  std::vector<FooterPart> parts;
  std::istringstream lines(footer);
  for (std::string line; std::getline(lines, line);) {
    const bool example = line.starts_with("  ");
    const bool begins =
        parts.empty() || parts.back().examples != example ||
        (!example && (line.starts_with("Example") || parts.back().text.ends_with('.')));
    if (begins) parts.push_back({example, ""});
    std::string& text = parts.back().text;
    text += example ? line + "\n" : (text.empty() ? "" : " ") + line;
  }
  return parts;
}

}  // namespace dullspell
