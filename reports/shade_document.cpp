#include "reports/shade_document.hpp"

#include <fmt/format.h>

#include "engine/plan/plan_edit.hpp"
#include "reports/cautions.hpp"
#include "reports/plan_summary.hpp"
#include "reports/reading_text.hpp"
#include "reports/shade_data.hpp"
#include "reports/shade_tables.hpp"
#include "reports/shade_verdict.hpp"

namespace dullspell {
namespace {

Part hours_part(const ShadeReport& report, const ShadeTable& shade) {
  const Table table = hours_table(report, shade);
  const bool shaded = is_shaded(report.plan.camps[shade.camp]);
  return {.heading = table.title,
          .how_to_read = fmt::format("Lines: watts from the panels by the hour, a line for each "
                                     "sky{}.",
                                     shaded ? "; dashed, the same in the open" : ""),
          .blocks = {{table}, {days_energy_table(report, shade)}}};
}

Part canopy_part(const ShadeReport& report, const ShadeTable& shade) {
  const Table table = canopies_table(report, shade);
  return {.heading = table.title,
          .how_to_read =
              "Find what the display shows on the line of the day's sky: below it stands the "
              "canopy to write. Dashes: the plan's own canopy.",
          .blocks = {{table}}};
}

Step how_to_look(const ShadeReport& report) {
  const Battery& battery = report.plan.battery;
  return {
      "Look at the watts that come from the panels, on the display of the solar controller or the "
      "power box:",
      {fmt::format("while the battery is below {} of charge{}, so that it takes all of it;",
                   whole_percent(battery.taper_from),
                   battery.charge_limit_w < rated_panels_w(report.plan)
                       ? fmt::format(" and loads take what is beyond its limit of {:.0f} W",
                                     battery.charge_limit_w)
                       : ""),
       "with the panels where and as they will stand for the stay;",
       "several times within the hour, since under trees light comes in flecks: the middle of "
       "those counts, not the best."}};
}

Step answer_step(const ShadeReport& report, const AnsweredGlance& seen) {
  const auto& [reading, answer] = seen;
  const std::size_t camp = reading.camp + 1;
  if (!names_a_canopy(seen)) {
    return {"Write no canopy by this reading before its cause is found."};
  }
  if (agrees_with_plan(seen)) {
    const std::string own = canopy_text(report.plan.camps[reading.camp].canopy);
    const std::string found = canopy_text(answer.canopy);
    const std::string close =
        own == found ? "" : ": give or take, the reading does not tell it from " + found;
    return {fmt::format("Leave the plan's canopy of {} as it is{}.", own, close)};
  }
  return {fmt::format(
      "Write `canopy = {0}` into {1} of the plan; for one run, `--set "
      "camp[{2}].canopy={0}`.",
      canopy_text(answer.canopy),
      report.plan.camps.size() > 1 ? fmt::format("the [[camp]] number {}", camp) : "the [[camp]]",
      camp)};
}

Step reading_step(const ShadeReport& report, const AnsweredGlance& seen) {
  const Reading& reading = seen.reading;
  return {fmt::format(
      "{} write the reading into the plan as a table [[reading]]: `panels_w = {:g}`, `at = "
      "{}`, `sky = \"{}\"`, `camp = {}`. `dullspell audit` weighs it, and all commands go by "
      "the outcome. One in the open, `camp = \"open\"`, taken minutes apart, makes it far surer.",
      report.plan.correction ? "Let it count beside the plan's other readings:"
                             : "Or let it count beside all else that is known: with the canopy as "
                               "it is,",
      reading.shown, iso_time(reading.from), to_string(std::get<SkyWord>(*reading.sky)),
      reading.camp + 1)};
}

// Dates of the year differ by much.
Step date_step(const AnsweredGlance& seen) {
  return {
      fmt::format("Read on another date than {}, the middle of the nights? Say so: `--date`, as in "
                  "`--date {}`.",
                  short_date(seen.reading.from.date), iso_date(seen.reading.from.date))};
}

std::vector<Step> shade_steps(const ShadeReport& report) {
  std::vector<Step> steps;
  if (report.seen) {
    // Where readings correct the plan its canopy is theirs to find.
    if (!report.plan.correction) steps.push_back(answer_step(report, *report.seen));
    steps.push_back(reading_step(report, *report.seen));
    if (!report.date_stated) steps.push_back(date_step(*report.seen));
    steps.push_back(how_to_look(report));
    return steps;
  }
  return {how_to_look(report),
          {"Begin in the open if there is any nearby. If the display is off there too, it is not "
           "the trees: correct the panels' `losses` or `rated_w` first."},
          {"Then under the trees: hold what it shows against the hour and the sky in the tables. "
           "`dullspell shade PLAN --seen 41 --at 13:00 --sky clear`, with your own watts, hour and "
           "sky, answers with the canopy to write; `--date` says when, unless on the date of the "
           "table."},
          {"Before there is anything to read: photograph the sky straight up from where the panels "
           "will lie. The canopy is the share of the picture that is branches and leaves."}};
}

}  // namespace

Document shade_document(const ShadeReport& report, std::string_view program) {
  Document out;
  out.program = program;
  out.title = report.plan.title;
  out.summary = plan_summary(report.plan, {});
  out.verdict = shade_verdict(report);
  out.said_too = shade_of_camps(report);
  out.steps = shade_steps(report);
  for (const ShadeTable& shade : report.camps) {
    if (shade.hours.empty()) continue;
    out.parts.push_back(hours_part(report, shade));
    out.parts.push_back(canopy_part(report, shade));
  }
  out.of_stays = false;
  out.notes = shade_notes(report);
  out.cautions = report_cautions(report.plan);
  out.footer = "Hours as the plan expects them; no weather is drawn.";
  out.charts = Charts::shade;
  out.head = shade_head(report, program);
  out.results = shade_results(report);
  return out;
}

}  // namespace dullspell
