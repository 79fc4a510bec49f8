
#include "cli/commands.hpp"
#include "cli/man_page.hpp"
#include "cli/output/standard_output.hpp"

namespace dullspell {

void add_manual_command(CLI::App& app, ExitCode& exit) {
  auto* command = app.add_subcommand("man", "Write the manual page, in roff");
  command->group("");  // for the build, which installs the page
  command->callback([&app, &exit] {
    write_man_page(standard_output(), app);
    exit = ExitCode::done;
  });
}

}  // namespace dullspell
