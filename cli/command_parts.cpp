#include "cli/command_parts.hpp"

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

}  // namespace dullspell
