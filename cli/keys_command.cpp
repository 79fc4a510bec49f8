#include <algorithm>
#include <memory>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/help_page.hpp"
#include "cli/option_values.hpp"
#include "cli/output/standard_output.hpp"
#include "cli/plan_reference.hpp"
#include "weather/input/nearest_word.hpp"

namespace dullspell {
namespace {

// "[[camp]]" and "camp" are the same table.
std::string bare(std::string name) {
  std::erase_if(name, [](char c) { return c == '[' || c == ']'; });
  return name;
}

// The named table with those inside it.
std::vector<PlanTable> tables_named(const std::string& typed) {
  const std::string name = bare(typed);
  std::vector<PlanTable> found;
  std::vector<std::string> known;
  for (const PlanTable& table : plan_reference()) {
    known.emplace_back(table.name);
    if (table.name == name || table.name.starts_with(name + ".")) found.push_back(table);
  }
  if (found.empty()) {
    refuse_option("TABLE", fmt::format("is `{}`", typed), fmt::format("{}", fmt::join(known, ", ")),
                  did_you_mean(name, known));
  }
  return found;
}

}  // namespace

Command keys_command() {
  Command command{.name = "keys", .question = "What may a plan say? Every key of every table"};
  auto name = std::make_shared<std::string>();
  command.options.push_back({.name = "TABLE",
                             .kept = name.get(),
                             .help = "One table, such as battery; all of them if left out",
                             .takes = ""});
  command.footer = "Examples:\n  dullspell keys\n  dullspell keys generator";
  command.run = [name] {
    standard_output() << (name->empty() ? keys_page(plan_reference(), plan_value_forms())
                                        : keys_page(tables_named(*name)));
    return ExitCode::done;
  };
  return command;
}

}  // namespace dullspell
