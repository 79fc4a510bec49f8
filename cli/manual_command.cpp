
#include "cli/commands.hpp"
#include "cli/man_page.hpp"
#include "cli/output/standard_output.hpp"

namespace dullspell {

Command manual_command(const Program& program) {
  Command command{.name = "man", .question = "Write the manual page, in roff"};
  command.presence = Presence::hidden;  // for the build, which installs the page
  command.run = [&program] {
    write_man_page(standard_output(), program);
    return ExitCode::done;
  };
  return command;
}

}  // namespace dullspell
