#include <filesystem>
#include <memory>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/option_values.hpp"
#include "cli/output/output_file.hpp"
#include "cli/starter_plan.hpp"

namespace dullspell {

Command new_command() {
  Command command{.name = "new", .question = "Write a commented plan to start from"};
  auto path = std::make_shared<std::string>("-");
  command.options.push_back({.name = "FILE",
                             .kept = path.get(),
                             .help = "File to write; standard output if left out",
                             .takes = ""});
  command.footer = "Example:\n  dullspell new mystay.toml && dullspell run mystay.toml";
  command.run = [path] {
    if (*path != "-" && std::filesystem::exists(*path)) {
      refuse_option("FILE", fmt::format("`{}` exists already", *path), "a new file",
                    "Nothing was changed.");
    }
    OutputFile out("FILE", *path);
    out.stream() << kStarterPlan;
    out.commit();
    return ExitCode::done;
  };
  return command;
}

}  // namespace dullspell
