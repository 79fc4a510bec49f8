#include <exception>
#include <iostream>

#include "cli/commands.hpp"
#include "cli/output/descriptor.hpp"
#include "cli/output/standard_output.hpp"
#include "weather/input/input_error.hpp"
#include "weather/input/utf8.hpp"

namespace dullspell {
namespace {

ExitCode run_program(int argc, char** argv) {
  Program program;
  program.name = "dullspell";
  program.version = kProgram;
  program.question =
      "How likely does the battery of an off-grid stay run flat, and what would fix it?";
  program.footer =
      "`dullspell COMMAND --help` explains a command. A first plan: `dullspell new mystay.toml`;\n"
      "all that a plan may say: `dullspell keys`.\n"
      "Exit codes: 0 done; 2 the input is wrong; 3 the accepted risk is exceeded and "
      "--fail-on-risk\n"
      "was given; 1 anything else that failed.\n"
      "The environment variable DULLSPELL_DATA may name a folder of place files (*.toml) of your "
      "own:\n"
      "each is then a place by the name of its file, like those that are built in.";
  program.commands = {run_command(),
                      size_command(),
                      compare_command(),
                      levers_command(),
                      generator_command(),
                      audit_command(),
                      shade_command(),
                      budget_command(),
                      hindcast_command(),
                      calendar_command(),
                      where_command(),
                      places_command(),
                      weather_command(),
                      fit_command(),
                      new_command(),
                      keys_command(),
                      completion_command(program),
                      manual_command(program)};
  return run_command_line(program, argc, argv);
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
