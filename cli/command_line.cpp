// The only file that knows the library which parses command lines.

#include "cli/command_line.hpp"

#include <algorithm>
#include <iostream>
#include <set>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/command_parts.hpp"
#include "cli/help_page.hpp"
#include "cli/output/standard_output.hpp"
#include "weather/input/nearest_word.hpp"
#include "weather/input/utf8.hpp"

namespace dullspell {
namespace {

// Adds an option to the parser, by where its words are kept.
struct AddTo {
  CLI::App& parser;
  const Option& option;

  void operator()(bool* given) const { parser.add_flag(option.name, *given); }

  void operator()(std::string* value) const { settle(*parser.add_option(option.name, *value)); }

  void operator()(std::vector<std::string>* values) const {
    CLI::Option& added = *parser.add_option(option.name, *values);
    settle(added);
    added.allow_extra_args(option.words == WordsEachTime::many);
  }

  void settle(CLI::Option& added) const {
    added.type_name(option.takes);
    added.required(option.presence == Presence::required);
  }
};

void build(CLI::App& parser, const Program& program) {
  parser.set_version_flag("--version", program.version);
  parser.require_subcommand(0, 1);
  for (const Command& command : program.commands) {
    CLI::App& sub = *parser.add_subcommand(command.name);
    for (const Option& option : command.options) std::visit(AddTo{sub, option}, option.kept);
  }
}

const Command* command_named(const Program& program, const std::string& name) {
  const auto found = std::find_if(program.commands.begin(), program.commands.end(),
                                  [&](const Command& command) { return command.name == name; });
  return found == program.commands.end() ? nullptr : &*found;
}

const Command* chosen_command(const Program& program, const CLI::App& parser) {
  const auto chosen = parser.get_subcommands();
  return chosen.empty() ? nullptr : command_named(program, chosen.front()->get_name());
}

ExitCode unknown_command(const Program& program, const std::string& typed) {
  std::vector<std::string> names;
  for (const Command* command : shown_commands(program)) names.push_back(command->name);
  const std::string meant = did_you_mean(typed, names);
  std::cerr << fmt::format("{}: there is no command `{}`; commands: {}\n", program.name,
                           printable(typed), joined(names, ", "));
  if (!meant.empty()) std::cerr << "  " << meant << '\n';
  return ExitCode::wrong_input;
}

std::vector<std::string> option_names(const CLI::App& parser) {
  std::vector<std::string> names;
  for (const CLI::Option* option : parser.get_options()) {
    for (const auto& name : option->get_lnames()) names.push_back("--" + name);
  }
  return names;
}

// The parser's own words, with the nearest option for a mistyped one.
ExitCode wrong_command_line(const CLI::App& parser, const CLI::ParseError& error) {
  const auto chosen = parser.get_subcommands();
  const CLI::App& command = chosen.empty() ? parser : *chosen.front();
  const std::string name = parser.get_name() + (chosen.empty() ? "" : " " + command.get_name());
  std::cerr << fmt::format("{}: {}\n", name, printable(error.what()));
  std::set<std::string> said;
  for (const auto& typed : command.remaining()) {
    const std::string meant = did_you_mean(typed.substr(0, typed.find('=')), option_names(command));
    if (!meant.empty() && said.insert(meant).second) std::cerr << "  " << meant << '\n';
  }
  std::cerr << fmt::format("  `{} --help` shows what it takes.\n", name);
  return ExitCode::wrong_input;
}

}  // namespace

ExitCode run_command_line(const Program& program, int argc, char** argv) {
  if (argc > 1 && argv[1][0] != '-' && !command_named(program, argv[1])) {
    return unknown_command(program, argv[1]);
  }
  CLI::App parser{"", program.name};
  build(parser, program);
  try {
    parser.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    standard_output() << help_page(program, chosen_command(program, parser));
    return ExitCode::done;
  } catch (const CLI::CallForVersion&) {
    standard_output() << program.version << '\n';
    return ExitCode::done;
  } catch (const CLI::ParseError& error) {
    return wrong_command_line(parser, error);
  }
  if (const Command* command = chosen_command(program, parser)) return command->run();
  if (argc == 1) standard_output() << help_page(program, nullptr);
  return ExitCode::done;
}

}  // namespace dullspell
