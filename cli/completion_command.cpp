#include <memory>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/option_values.hpp"
#include "cli/output/standard_output.hpp"
#include "cli/shell_completion.hpp"

namespace dullspell {

Command completion_command(const Program& program) {
  Command command{.name = "completion",
                  .question = "A script by which a shell completes commands, options and files"};
  auto shell = std::make_shared<std::string>();
  command.options.push_back({.name = "SHELL",
                             .kept = shell.get(),
                             .help = "Which shell",
                             .takes = "bash|zsh|fish",
                             .presence = Presence::required});
  command.footer =
      "An installed program brings its scripts along. Examples:\n"
      "  source <(dullspell completion bash)\n"
      "  dullspell completion fish > ~/.config/fish/completions/dullspell.fish";
  command.run = [&program, shell] {
    if (*shell == "bash") {
      write_bash_completion(standard_output(), program);
    } else if (*shell == "zsh") {
      write_zsh_completion(standard_output(), program);
    } else if (*shell == "fish") {
      write_fish_completion(standard_output(), program);
    } else {
      refuse_option("SHELL", fmt::format("is `{}`", *shell), "bash, zsh or fish");
    }
    return ExitCode::done;
  };
  return command;
}

}  // namespace dullspell
