#include <algorithm>
#include <memory>
#include <optional>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/option_values.hpp"
#include "cli/output/output_file.hpp"
#include "cli/progress_line.hpp"
#include "cli/report_output.hpp"
#include "cli/shared_options.hpp"
#include "engine/plan/plan_file.hpp"
#include "reports/comparison_data.hpp"
#include "reports/comparison_document.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kFewest = 2, kMost = 8;

struct CompareOptions {
  std::vector<std::string> plans, settings;
  OutputPaths outputs;
  StudyOptionTexts study;
  UnitsOption units;
};

std::vector<Plan> read_plans(const CompareOptions& options) {
  const std::size_t count = options.plans.size();
  if (count < kFewest || count > kMost) {
    refuse_option("PLAN", fmt::format("is given {} time{}", count, count == 1 ? "" : "s"),
                  fmt::format("{} to {} plans", kFewest, kMost),
                  count < kFewest ? "`dullspell run` looks at a single one." : "");
  }
  if (std::count(options.plans.begin(), options.plans.end(), "-") > 1) {
    refuse_option("PLAN", "is - more than once", "standard input for one plan at most");
  }
  std::vector<Plan> plans;
  for (const auto& path : options.plans) {
    plans.push_back(PlanOption{path, options.settings}.read());
  }
  return plans;
}

ExitCode compare(const CompareOptions& options) {
  if (!options.study.precision.empty()) {
    refuse_option("--precision", "is given, but plans are compared on equally many stays",
                  "--stays");
  }
  const StudyOptions study = options.study.options();
  const Units units = options.units.units();
  std::vector<Plan> plans = read_plans(options);
  OutputFiles files(options.outputs);

  const auto compared = with_progress(
      [&](const Progress& progress) { return compare_plans(std::move(plans), study, progress); });
  const Document document = comparison_document(compared, kProgram, units);
  if (auto* out = files.stream("--csv")) write_comparison_csv(*out, compared);
  write_report(files, document);
  return ExitCode::done;
}

}  // namespace

Command compare_command() {
  Command command{
      .name = "compare",
      .question = "Which of several plans is safer on the same weather, and by how much?"};
  auto options = std::make_shared<CompareOptions>();
  command.options.push_back(
      {.name = "PLAN",
       .kept = &options->plans,
       .help = fmt::format("{} to {} plan files; - is standard input. Differences are to the "
                           "first.",
                           kFewest, kMost),
       .takes = "FILE",
       .presence = Presence::required});
  command.options.push_back(
      set_option(options->settings,
                 "Change or add one value of every plan, e.g. battery.start_charge=0.55; may be "
                 "given several times"));
  command.options.push_back(json_option(options->outputs.json));
  command.options.push_back(csv_option(
      options->outputs.csv, "Also write one line a plan as CSV to this file; - as for --json"));
  command.options.push_back(html_option(options->outputs.html));
  options->study.add_to(command);
  options->units.add_to(command);
  command.hide("--precision");  // refused with a reason
  command.footer =
      "Every plan meets the same simulated weather, so that a difference shows at few stays.\n"
      "Examples:\n"
      "  dullspell compare forest.toml forest-big-battery.toml\n"
      "  dullspell compare a.toml b.toml c.toml --stays 100000 --html result.html\n"
      "  dullspell compare a.toml b.toml --set battery.start_charge=0.5 --csv -";
  command.run = [options] { return compare(*options); };
  return command;
}

}  // namespace dullspell
