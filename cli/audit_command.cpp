#include <memory>

#include "cli/commands.hpp"
#include "cli/output/output_file.hpp"
#include "cli/report_output.hpp"
#include "cli/shared_options.hpp"
#include "engine/guesses/audit.hpp"
#include "engine/study/prepare.hpp"
#include "reports/audit_document.hpp"

namespace dullspell {
namespace {

struct AuditOptions {
  PlanOption plan;
  OutputPaths outputs;
  bool checklist = false;
  StudyOptionTexts study;
};

// Without readings the guesses are as the plan states them.
PlanCorrection correction_of(const Plan& plan) {
  return plan.correction ? *plan.correction : PlanCorrection{plan, posterior_of(plan)};
}

ExitCode run(const AuditOptions& options) {
  const StudyOptions study = options.study.options();
  const Plan plan = options.plan.read();
  OutputFiles files(options.outputs);

  const PlanCorrection correction = correction_of(plan);
  const Plan& listed = correction.listed;
  const Audit audit = audit_of(listed, correction.posterior);
  const auto flat_of = [&](const Plan& p) {
    return run_with_progress(without_generator(prepare_stay(p)), study);
  };
  const StudyResult by_list = flat_of(listed);
  const StudyResult by_display = plan.correction ? flat_of(plan) : by_list;
  const AuditReport report{listed,
                           plan,
                           correction.posterior,
                           audit,
                           by_list.home.flat,
                           by_display.home.flat,
                           by_list.stays,
                           study.seed,
                           options.checklist};
  write_report(files, audit_document(report, kProgram));
  return ExitCode::done;
}

}  // namespace

Command audit_command() {
  Command command{.name = "audit",
                  .question = "What does the battery's display say of the plan's figures?"};
  auto options = std::make_shared<AuditOptions>();
  options->plan.add_to(command);
  command.options.push_back(json_option(options->outputs.json));
  command.options.push_back(html_option(options->outputs.html));
  command.options.push_back(
      {.name = "--checklist",
       .kept = &options->checklist,
       .help = "All readings worth taking, in order, with a table to fill in by hand"});
  options->study.add_to(command);
  command.footer =
      "Readings stand in the plan as tables [[reading]]; `dullspell keys reading` has their keys. "
      "As long as they stand there, all commands go by the figures that they correct.\n"
      "Examples:\n"
      "  dullspell audit van.toml --checklist --html checklist.html\n"
      "  dullspell audit van.toml --json audit.json";
  command.run = [options] { return run(*options); };
  return command;
}

}  // namespace dullspell
