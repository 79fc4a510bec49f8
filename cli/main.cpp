#include <exception>
#include <iostream>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "cli/command_parts.hpp"
#include "cli/commands.hpp"
#include "cli/help_page.hpp"
#include "cli/output/descriptor.hpp"
#include "cli/output/standard_output.hpp"
#include "weather/input/input_error.hpp"
#include "weather/input/nearest_word.hpp"
#include "weather/input/utf8.hpp"

namespace dullspell {
namespace {

std::vector<std::string> option_names(const CLI::App& command) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options()) {
    for (const auto& name : option->get_lnames()) names.push_back("--" + name);
  }
  return names;
}

std::string joined(const std::vector<std::string>& words) {
  std::string out;
  for (const auto& word : words) out += (out.empty() ? "" : ", ") + word;
  return out;
}

ExitCode unknown_command(const CLI::App& app, const std::string& typed) {
  std::vector<std::string> names;
  for (const CLI::App* command : shown_commands(app)) names.push_back(command->get_name());
  const std::string meant = did_you_mean(typed, names);
  std::cerr << fmt::format("dullspell: there is no command `{}`; commands: {}\n", printable(typed),
                           joined(names));
  if (!meant.empty()) std::cerr << "  " << meant << '\n';
  return ExitCode::wrong_input;
}

// The parser's own words, with the nearest option for a mistyped one.
ExitCode wrong_command_line(const CLI::App& app, const CLI::ParseError& error) {
  const auto chosen = app.get_subcommands();
  const CLI::App& command = chosen.empty() ? app : *chosen.front();
  const std::string name = chosen.empty() ? "dullspell" : "dullspell " + command.get_name();
  std::cerr << fmt::format("{}: {}\n", name, printable(error.what()));
  std::set<std::string> said;
  for (const auto& typed : command.remaining()) {
    const std::string meant = did_you_mean(typed.substr(0, typed.find('=')), option_names(command));
    if (!meant.empty() && said.insert(meant).second) std::cerr << "  " << meant << '\n';
  }
  std::cerr << fmt::format("  `{} --help` shows what it takes.\n", name);
  return ExitCode::wrong_input;
}

ExitCode run_program(int argc, char** argv) {
  CLI::App app{
      "How likely does the battery of an off-grid stay run flat, and what would make it right?",
      "dullspell"};
  app.formatter(std::make_shared<HelpPage>());
  app.set_version_flag("--version", kProgram);
  app.require_subcommand(0, 1);
  app.footer(
      "`dullspell COMMAND --help` explains a command. A first plan: `dullspell new mystay.toml`.\n"
      "Exit codes: 0 done; 2 the input is wrong; 3 the accepted risk is exceeded and "
      "--fail-on-risk\n"
      "was given; 1 anything else that failed.\n"
      "The environment variable DULLSPELL_DATA may name a folder of place files (*.toml) of your "
      "own:\n"
      "each is then a place by the name of its file, like those that are built in.");
  ExitCode exit = ExitCode::done;
  add_run_command(app, exit);
  add_size_command(app, exit);
  add_compare_command(app, exit);
  add_levers_command(app, exit);
  add_budget_command(app, exit);
  add_hindcast_command(app, exit);
  add_calendar_command(app, exit);
  add_where_command(app, exit);
  add_places_command(app, exit);
  add_weather_command(app, exit);
  add_fit_command(app, exit);
  add_new_command(app, exit);
  add_completion_command(app, exit);
  add_manual_command(app, exit);

  if (argc > 1 && argv[1][0] != '-') {
    const std::string typed = argv[1];
    const auto named = [&](const CLI::App* command) { return command->get_name() == typed; };
    if (app.get_subcommands(named).empty()) return unknown_command(app, typed);
  }
  try {
    app.parse(argc, argv);
    if (argc == 1) standard_output() << app.help();
    return exit;
  } catch (const CLI::Success& answered) {  // --help, --version
    app.exit(answered, standard_output(), std::cerr);
    return ExitCode::done;
  } catch (const CLI::ParseError& error) {
    return wrong_command_line(app, error);
  }
}

}  // namespace
}  // namespace dullspell

int main(int argc, char** argv) {
  using dullspell::ExitCode;
  try {
    dullspell::keep_standard_descriptors();
    const ExitCode exit = dullspell::run_program(argc, argv);
    dullspell::finish_standard_output();
    return static_cast<int>(exit);
  } catch (const dullspell::InputError& error) {
    std::cerr << error.what();
    return static_cast<int>(ExitCode::wrong_input);
  } catch (const std::exception& error) {
    std::cerr << "dullspell: " << dullspell::printable(error.what()) << '\n';
    return static_cast<int>(ExitCode::failed);
  }
}
