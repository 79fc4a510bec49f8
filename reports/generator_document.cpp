#include "reports/generator_document.hpp"

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/generator_data.hpp"
#include "reports/generator_tables.hpp"
#include "reports/plan_summary.hpp"
#include "reports/run_steps.hpp"
#include "reports/run_tables.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

// The next hour after the first in which the display may ask for the generator.
std::string next_look(const GeneratorReport& report) {
  const PreparedPlan& prepared = report.prepared;
  for (std::size_t h = 1; h < prepared.hours.size(); ++h) {
    const HourSlot& slot = prepared.hours[h];
    if (slot.source != Source::generator) continue;
    const ShownLevel level = shown_level(prepared, slot);
    if (!is_worth_a_look(level)) continue;
    return fmt::format("Look again on {} at {:02}:00: start it below {} %.",
                       short_date(prepared.dates[slot.day]), slot.hour_of_day, level.start_below);
  }
  return "After that it need not run.";
}

// Whether there is an hour in which the display may ask for the generator.
bool has_levels(const GeneratorReport& report) {
  return !shown_levels(report.prepared).empty();
}

// What to do at once, where one is at camp already.
std::string now_text(const GeneratorReport& report) {
  if (!report.plan.now) return "";
  if (!has_levels(report)) return "From now on it need not run.";
  const HourSlot& now = report.prepared.hours.front();
  if (now.source != Source::generator) return next_look(report);
  const ShownLevel level = shown_level(report.prepared, now);
  const double charge = report.plan.battery.start_charge;
  if (100.0 * charge < level.start_below) {
    return fmt::format(
        "Start it now: at {} you are below the {} % for {:02}:00. Run it until {} %.",
        whole_percent(charge), level.start_below, now.hour_of_day, level.run_until);
  }
  return fmt::format("Not now: at {} you are not below the {} % for {:02}:00. {}",
                     whole_percent(charge), level.start_below, now.hour_of_day, next_look(report));
}

std::string schedule_verdict(const GeneratorReport& report) {
  const StudyResult& result = report.schedule.result;
  const GeneratorResult& own = *result.generator;
  const double accepted = report.plan.accept_risk;
  std::string text = now_text(report);
  if (!text.empty()) text += " ";
  if (standing(result.home.flat, accepted) == RiskStanding::within) {
    text += "You can do without the generator.";
  } else if (standing(own.risk.flat, accepted) == RiskStanding::exceeded) {
    text +=
        "Follow the table, but the allowed hours are too few to reach the risk that you accept.";
  } else if (!has_levels(report)) {
    text += "It need not run.";
  } else {
    text += "Follow the table: it starts as late and runs as briefly as lasts.";
  }
  return text + fmt::format(
                    " Without the generator {} of stays run flat{}, with it {} ({}); you accept "
                    "{}. It {}.",
                    percent(result.home.flat), beyond_text(report.plan), percent(own.risk.flat),
                    percent_interval(own.risk.flat), accepted_text(accepted),
                    runs_and_burns(own, report.plan.generator->fuel, report.units));
}

// A run that is worth a start, as the plan has it.
std::string least_run(const GeneratorReport& report) {
  const double hours = report.plan.generator->min_run_h;
  if (hours <= 0.0) return "";
  return fmt::format(" Once started it runs for {:g} h at least (min_run_h).", hours);
}

std::vector<Step> schedule_steps(const GeneratorReport& report) {
  std::vector<Step> steps;
  if (const auto text = fuel_text(report.run())) steps.push_back({*text});
  if (has_levels(report)) {
    steps.push_back(
        {"Write the table on a card and keep it by the battery's display." + least_run(report)});
    steps.push_back(
        {fmt::format("Start sooner if you may miss the next allowed hours, or if something may go "
                     "wrong: that is "
                     "always safe and costs fuel alone. {} of the battery are kept for what the "
                     "plan forgot; more "
                     "with `--set generator.margin=0.25`.",
                     whole_percent(report.plan.generator->margin))});
  }
  steps.push_back(
      {"At camp, run this again with `now`, the charge that the display shows and the forecast: "
       "tonight's figures follow from them."});
  return steps;
}

Part levels_part(const GeneratorReport& report) {
  const Table table = levels_table(report.prepared);
  return {.heading = "When to run it",
          .how_to_read =
              "Where the charge should stand at each allowed hour: below the bar start "
              "it; the thin mark is where it may stop.",
          .size = ChartSize::wide,
          .table = ChartTable::shown,
          .blocks = {{table}}};
}

Part careful_part(const GeneratorReport& report) {
  return {.heading = "More and less careful rules",
          .how_to_read =
              "Generator hours of a stay against the share of stays that run flat all "
              "the same, by how many nights a rule lasts in.",
          .blocks = {{careful_table(report)}, {other_rules_text(report)}}};
}

Part stay_part(const GeneratorReport& report) {
  const RunReport run = report.run();
  return {.text_heading = "A stay with the generator along",
          .place = PartPlace::under_verdict,
          .blocks = {{generator_table(run)}, {stay_table(run)}}};
}

}  // namespace

Document generator_document(const GeneratorReport& report, std::string_view program) {
  const StudyResult& result = report.schedule.result;
  Document out;
  out.program = program;
  out.title = report.plan.title;
  out.summary = plan_summary(report.plan, report.prepared.known);
  out.verdict = schedule_verdict(report);
  out.tone = tone_of(result.generator->risk.flat, report.plan.accept_risk);
  out.steps = schedule_steps(report);
  if (has_levels(report)) out.parts = {levels_part(report), careful_part(report)};
  out.parts.push_back(stay_part(report));
  out.notes = {
      "The figures are found on simulated weather of the plan's places, never on the weather that "
      "they are judged by. The rule assumes no knowledge of tomorrow's weather."};
  if (report.stated != report.plan.generator->rule) {
    out.notes.push_back(
        "The plan states rule `below`, by which the other commands run its generator; the figures "
        "here are those of rule `night`.");
  }
  const auto rest = report_notes(report.run());
  out.notes.insert(out.notes.end(), rest.begin(), rest.end());
  out.cautions = report_cautions(report.plan);
  out.footer = study_footer(result.stays, result.seed);
  out.charts = Charts::generator;
  out.head = generator_schedule_data(report, program);
  return out;
}

}  // namespace dullspell
