#include <filesystem>
#include <memory>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/output/output_file.hpp"
#include "cli/shared_options.hpp"
#include "cli/starter_plan.hpp"

namespace dullspell {

void add_new_command(CLI::App& app, ExitCode& exit) {
  auto* command = app.add_subcommand("new", "Write a commented plan to start from");
  auto path = std::make_shared<std::string>("-");
  command->add_option("FILE", *path, "File to write; standard output if left out")->type_name("");
  command->footer("Example:\n  dullspell new mystay.toml && dullspell run mystay.toml");
  command->callback([path, &exit] {
    if (*path != "-" && std::filesystem::exists(*path)) {
      refuse_option("FILE", fmt::format("`{}` exists already", *path), "a new file",
                    "Nothing was changed.");
    }
    OutputFile out("FILE", *path);
    out.stream() << kStarterPlan;
    out.commit();
    exit = ExitCode::done;
  });
}

}  // namespace dullspell
