#include <memory>
#include <optional>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/option_values.hpp"
#include "cli/output/output_file.hpp"
#include "cli/progress_line.hpp"
#include "cli/report_output.hpp"
#include "cli/shared_options.hpp"
#include "engine/decisions/size_study.hpp"
#include "reports/size_data.hpp"
#include "reports/size_document.hpp"

namespace dullspell {
namespace {

struct SizeCommandOptions {
  PlanOption plan;
  std::string confidence, vary;
  OutputPaths outputs;
  bool with_generator = false;
  StudyOptionTexts study;
  UnitsOption units;
};

double accepted_risk(const SizeCommandOptions& options, const Plan& plan) {
  if (options.confidence.empty()) return plan.accept_risk;
  return 1.0 - real_number("--confidence", options.confidence, 0.5, 0.9999);
}

ExitCode size(const SizeCommandOptions& options) {
  if (!options.study.precision.empty()) {
    refuse_option("--precision", "is given, but a size has no precision to reach", "--stays",
                  "More stays narrow the interval of the size.");
  }
  const StudyOptions study_options = options.study.options();
  const Units units = options.units.units();
  const bool both = options.vary == "both";
  if (!options.vary.empty() && !both && options.vary != "battery" && options.vary != "panels") {
    refuse_option("--vary", fmt::format("is `{}`", options.vary), "battery, panels or both");
  }
  if (!options.confidence.empty()) real_number("--confidence", options.confidence, 0.5, 0.9999);
  const Plan plan = options.plan.read();
  if (plan.now) {
    refuse_option("PLAN", "is of a stay under way, where no other battery can be had",
                  "a plan without `now`",
                  "`dullspell levers` says what to change now, `dullspell generator` when to run "
                  "one.");
  }
  const SizeQuestion question{options.vary == "panels" ? SizeOf::panels : SizeOf::battery,
                              accepted_risk(options, plan), options.with_generator};
  if ((both || question.of == SizeOf::panels) && plan.panels.empty()) {
    refuse_option("--vary", fmt::format("is {}, but the plan has no panels", options.vary),
                  "battery, or a plan with at least one [[panels]]",
                  "A table [[panels]] says how they are mounted; its rated_w may be any.");
  }
  if (question.with_generator && !plan.generator) {
    refuse_option("--with-generator", "is given, but the plan has no generator",
                  "a plan with a table [generator]");
  }
  OutputFiles files(options.outputs);

  const SizeOptions run{study_options.stays, study_options.seed, study_options.threads,
                        study_options.instruction_set, Tracks::both};
  const SizeStudy study = with_progress(
      [&](const Progress& progress) { return study_size(plan, question, run, both, progress); });
  const Document document = size_document(plan, study, kProgram, units);
  if (auto* out = files.stream("--csv")) write_size_csv(*out, study);
  write_report(files, document);
  return ExitCode::done;
}

}  // namespace

Command size_command() {
  Command command{
      .name = "size",
      .question = "How large must battery or panels be for the confidence that I want?"};
  auto options = std::make_shared<SizeCommandOptions>();
  options->plan.add_to(command);
  command.options.push_back(
      {.name = "--confidence",
       .kept = &options->confidence,
       .help = "Share of stays that the battery must last, e.g. 0.95 (default: 1 less the "
               "plan's accept_risk)"});
  command.options.push_back(
      {.name = "--vary",
       .kept = &options->vary,
       .help = "What to size: battery (default), panels, or both: the least battery for "
               "several sizes of panels",
       .takes = "battery|panels|both"});
  command.options.push_back(
      {.name = "--with-generator",
       .kept = &options->with_generator,
       .help = "Judge the plan with its generator along; else it stays at home"});
  command.options.push_back(json_option(options->outputs.json));
  command.options.push_back(
      csv_option(options->outputs.csv,
                 "Also write the sizes that were tried as CSV to this file; - writes only "
                 "CSV, to standard output"));
  command.options.push_back(html_option(options->outputs.html));
  options->study.add_to(command);
  options->units.add_to(command);
  command.footer =
      "Tables [[option]] in the plan (name, battery_wh or capacity_ah, panels_w, weight_kg,\n"
      "price) are kits to choose from; they are judged too.\n"
      "Examples:\n"
      "  dullspell size forest.toml\n"
      "  dullspell size forest.toml --confidence 0.95 --vary panels\n"
      "  dullspell size forest.toml --vary both --html sizes.html\n"
      "  dullspell size forest.toml --with-generator --stays 100000";
  command.run = [options] { return size(*options); };
  return command;
}

}  // namespace dullspell
