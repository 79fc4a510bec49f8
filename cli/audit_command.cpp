#include <memory>
#include <optional>

#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/known_places.hpp"
#include "cli/option_values.hpp"
#include "cli/output/files_in_use.hpp"
#include "cli/output/output_file.hpp"
#include "cli/report_output.hpp"
#include "cli/shared_options.hpp"
#include "engine/guesses/audit.hpp"
#include "engine/guesses/corrected_text.hpp"
#include "engine/guesses/display_log.hpp"
#include "engine/study/prepare.hpp"
#include "reports/audit_document.hpp"

namespace dullspell {
namespace {

struct AuditOptions {
  PlanOption plan;
  std::string log, log_camp, log_counts;
  OutputPaths outputs;
  bool checklist = false;
  StudyOptionTexts study;

  std::optional<DisplayLog> read_log(const Plan& listed) const;
};

void refuse_without(const std::string& option, const std::string& value, const char* other) {
  if (value.empty()) return;
  refuse_option(option, "is given without " + std::string(other), std::string(other) + " besides");
}

std::optional<DisplayLog> AuditOptions::read_log(const Plan& listed) const {
  if (log.empty()) {
    refuse_without("--log-camp", log_camp, "--log");
    refuse_without("--log-counts", log_counts, "--log");
    return std::nullopt;
  }
  LogTaken taken;
  if (log_camp == "open") {
    taken.in_the_open = true;
  } else if (!log_camp.empty()) {
    taken.camp = whole_number("--log-camp", log_camp, 1, listed.camps.size()) - 1;
  }
  if (log_counts == "battery") {
    taken.counted_at = CountedAt::battery;
  } else if (!log_counts.empty() && log_counts != "loads") {
    refuse_option("--log-counts", fmt::format("is `{}`", log_counts), "loads or battery");
  }
  note_file_in_use(log);
  return read_display_log(read_source(log, "log", kLargestLog_bytes), listed, taken);
}

Plan with_log(Plan listed, const DisplayLog& log) {
  listed.readings.insert(listed.readings.end(), log.readings.begin(), log.readings.end());
  return corrected_by_readings(std::move(listed));
}

// Without readings the guesses are as the plan states them.
PlanCorrection correction_of(const Plan& plan) {
  return plan.correction ? *plan.correction : PlanCorrection{plan, posterior_of(plan)};
}

// As it would be read from there.
std::string plan_to_write(const AuditOptions& options, const SourceText& source,
                          const PlanCorrection& correction) {
  if (!options.plan.settings.empty()) {
    refuse_option("--write", "is given besides --set", "one of the two",
                  "Make the change in the plan itself.");
  }
  if (correction.listed.readings.empty()) {
    refuse_option("--write", "is given, but no reading corrects the plan",
                  "a plan with tables [[reading]], or a --log");
  }
  const std::string& path = options.outputs.plan;
  return corrected_text({path == "-" ? source.name : path, source.text}, correction.listed,
                        correction.posterior, known_places());
}

ExitCode run(const AuditOptions& options) {
  const StudyOptions study = options.study.options();
  const SourceText source = options.plan.source();
  Plan plan = options.plan.read(source);
  const std::optional<DisplayLog> log = options.read_log(listed_plan(plan));
  if (log) plan = with_log(listed_plan(plan), *log);
  OutputFiles files(options.outputs);

  const PlanCorrection correction = correction_of(plan);
  if (auto* out = files.stream("--write")) *out << plan_to_write(options, source, correction);
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
                           options.checklist,
                           options.log,
                           log ? &log->findings : nullptr,
                           options.outputs.plan};
  write_report(files, audit_document(report, kProgram));
  return ExitCode::done;
}

}  // namespace

Command audit_command() {
  Command command{.name = "audit",
                  .question = "What does the battery's display say of the plan's figures?"};
  auto options = std::make_shared<AuditOptions>();
  options->plan.add_to(command);
  const std::vector<Option> own{
      {.name = "--log",
       .kept = &options->log,
       .help = "A table that the display noted down by itself, as CSV with a header row: time "
               "(2027-05-22 21:30) and charge (0 to 1, or with %) or charge_percent, panels_w, "
               "draw_w, as far as you have them. Nothing else may have charged the battery. Its "
               "nights and days become readings.",
       .takes = "FILE"},
      {.name = "--log-camp",
       .kept = &options->log_camp,
       .help = "Where the log was taken: the number of a camp, or open for panels away from all "
               "shade (default: the camp of each date, else the first)",
       .takes = "N|open"},
      {.name = "--log-counts",
       .kept = &options->log_counts,
       .help = "What its draw_w counts: loads, what they take (default), or battery, the "
               "inverter's losses with it",
       .takes = "loads|battery"},
      {.name = "--write",
       .kept = &options->outputs.plan,
       .help = "Also write the plan with the corrected figures to this file: values and [guesses] "
               "changed where they stand, readings made comments; - writes only that, to standard "
               "output",
       .takes = "FILE"},
      json_option(options->outputs.json),
      html_option(options->outputs.html),
      {.name = "--checklist",
       .kept = &options->checklist,
       .help = "All readings worth taking, in order, with a table to fill in by hand"}};
  command.options.insert(command.options.end(), own.begin(), own.end());
  options->study.add_to(command);
  command.footer =
      "Readings stand in the plan as tables [[reading]]; `dullspell keys reading` has their keys. "
      "As long as they stand there, all commands go by the figures that they correct; a log is "
      "read by this command alone, --write keeps what it says.\n"
      "Examples:\n"
      "  dullspell audit van.toml --checklist --html checklist.html\n"
      "  dullspell audit van.toml --log display.csv --write van-corrected.toml\n"
      "  dullspell audit van.toml --json audit.json";
  command.run = [options] { return run(*options); };
  return command;
}

}  // namespace dullspell
