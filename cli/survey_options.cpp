#include "cli/survey_options.hpp"

#include "cli/known_places.hpp"
#include "cli/option_values.hpp"
#include "cli/output/files_in_use.hpp"
#include "engine/plan/plan_file.hpp"
#include "weather/input/toml_section.hpp"

namespace dullspell {

void SurveyOptionTexts::add_to(Command& command) {
  plan.add_to(command);
  command.options.push_back(json_option(outputs.json));
  command.options.push_back(
      csv_option(outputs.csv, "Also write the result as comma-separated values; - as with --json"));
  command.options.push_back(html_option(outputs.html));
  study.add_to(command);
  units.add_to(command);
  command.hide("--precision");
}

OutcomeOptions SurveyOptionTexts::options() const {
  if (!study.precision.empty()) {
    refuse_option("--precision", "is given, but this command runs as many stays everywhere", "",
                  "Say how many by --stays; `dullspell run` takes --precision.");
  }
  const StudyOptions checked = study.options();
  OutcomeOptions out;
  out.stays = checked.stays;
  out.seed = checked.seed;
  out.threads = checked.threads;
  out.instruction_set = checked.instruction_set;
  return out;
}

Plan SurveyOptionTexts::read() const {
  note_file_in_use(plan.path);
  const SourceText source = read_source(plan.path, "plan", kLargestPlan_bytes);
  Plan out = parse_plan(source, known_places(), plan.settings);
  if (out.now) {
    const auto document = std::make_shared<const TomlDocument>(source, plan.settings);
    TomlSection::root_of(document).fail(
        "now", "is given, but a stay under way cannot be moved", "a plan of a stay to come",
        "Take it out, and set battery.start_charge to that on arrival; `dullspell run` tells what "
        "lies ahead of a stay under way.");
  }
  if (!out.forecast.empty() || out.yesterday) {
    out.forecast.clear();
    out.yesterday.reset();
    out.notes.emplace_back(plan_note::ForecastSetAside{});
  }
  return out;
}

}  // namespace dullspell
