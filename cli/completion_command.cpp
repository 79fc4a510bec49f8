#include <memory>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/output/standard_output.hpp"
#include "cli/shared_options.hpp"
#include "cli/shell_completion.hpp"

namespace dullspell {

void add_completion_command(CLI::App& app, ExitCode& exit) {
  auto* command = app.add_subcommand(
      "completion", "A script by which a shell completes commands, options and files");
  auto shell = std::make_shared<std::string>();
  command->add_option("SHELL", *shell, "Which shell")->type_name("bash|zsh|fish")->required();
  command->footer(
      "An installed program brings its scripts along. Examples:\n"
      "  source <(dullspell completion bash)\n"
      "  dullspell completion fish > ~/.config/fish/completions/dullspell.fish");
  command->callback([&app, shell, &exit] {
    if (*shell == "bash") {
      write_bash_completion(standard_output(), app);
    } else if (*shell == "zsh") {
      write_zsh_completion(standard_output(), app);
    } else if (*shell == "fish") {
      write_fish_completion(standard_output(), app);
    } else {
      refuse_option("SHELL", fmt::format("is `{}`", *shell), "bash, zsh or fish");
    }
    exit = ExitCode::done;
  });
}

}  // namespace dullspell
