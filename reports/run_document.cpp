#include "reports/run_document.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/hindcast_verdict.hpp"
#include "reports/plan_summary.hpp"
#include "reports/run_data.hpp"
#include "reports/run_steps.hpp"
#include "reports/run_tables.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

// How a page's heading and caption end where a plan has a generator.
std::string left_at_home(const RunReport& report) {
  return report.result.generator ? ", generator left at home" : "";
}

Part risk_part(const RunReport& report) {
  const Table days = days_table(report);
  Part part{
      .heading = "Risk by day" + left_at_home(report),
      .how_to_read =
          "Bars: share of stays that are flat at some time of that day. Line: share that have been "
          "flat by then. Thin marks: 95 % interval of sampling; broad pale bands: the same with "
          "what the weather record cannot tell (climate). Dashes: the risk that you accept.",
      .size = ChartSize::wide,
      .table = ChartTable::shown};
  Table captioned = days;
  captioned.title = part.heading;
  part.blocks = {{days, Shown::in_text}, {captioned, Shown::on_page}};
  return part;
}

Part charge_part(const RunReport& report) {
  Table table = charge_table(report);
  const std::string heading = "State of charge" + left_at_home(report);
  table.title =
      heading + ": what 5, 25, 50, 75 and 95 of 100 stays are below, at the end of the hour";
  return {.heading = heading,
          .how_to_read =
              "Line: the middle stay. Dark band: half of all stays; pale band: nine in ten. "
              "Shaded: sun below the horizon.",
          .size = ChartSize::wide,
          .blocks = {{table, Shown::on_page}}};
}

Part generator_part(const RunReport& report) {
  const std::string rule = generator_rule(*report.plan.generator);
  return {.heading = "Generator hours",
          .how_to_read =
              fmt::format("Share of stays by the hours that the generator runs in them, {}. Thin "
                          "marks: 95 % interval of sampling.",
                          rule),
          .size = ChartSize::tall,
          .text_heading = "Generator along",
          .blocks = {{rule + ".", Shown::in_text},
                     {generator_hours_table(report), Shown::on_page},
                     {generator_table(report)},
                     {generator_leaves(report)}}};
}

// Days are not average: beyond the stay's own length a figure would only mislead.
std::string deficit_text(const Plan& plan, const Budget& budget) {
  const double balance =
      budget.panels_wh_per_day + budget.vehicle_wh_per_day - budget.draw_wh_per_day;
  if (balance >= -0.01 * budget.draw_wh_per_day) return "";
  std::string text = fmt::format("Each average day takes {} more than comes in", energy(-balance));
  const double days = budget.usable_wh / -balance;
  if (days < plan.nights()) {
    text += fmt::format(": a full battery is empty after {:.0f} such days", days);
  }
  return text + ".";
}

Part budget_part(const Plan& plan, const Budget& budget) {
  Part part{.heading = "Energy of an average day",
            .how_to_read =
                "What uses energy and what brings it, in Wh a day. Thin mark: panels from the "
                "dullest to the clearest day in ten.",
            .blocks = {{budget_table(budget)}, {autonomy_text(budget)}}};
  if (budget.camps.size() > 1) {
    part.blocks.push_back({camps_table(plan, budget)});
  } else if (const std::string deficit = deficit_text(plan, budget); !deficit.empty()) {
    part.blocks.push_back({deficit, Shown::in_text});
  }
  return part;
}

Part guesses_part(const GuessDoubt& doubt) {
  const std::string sentence = guesses_sentence(doubt);
  const Table table = guesses_table(doubt);
  Part part{
      .heading = table.title,
      .how_to_read = sentence + " Bars: the share of that doubt that each brings by itself.",
      .text_heading = table.title,
      .blocks = {{sentence + " Of that doubt each brings by itself:", Shown::in_text}, {table}}};
  constexpr double kHardlyAny = 0.02;  // what chance alone may bring
  if (doubt.parts.front().share >= kHardlyAny) {
    part.blocks.push_back({fmt::format("Measure \"{}\" first. Spreads are assumed unless the plan "
                                       "states its own in [guesses]; 0 is measured.",
                                       doubt.parts.front().name),
                           Shown::in_text});
  }
  return part;
}

}  // namespace

Document run_document(const RunReport& report, std::string_view program) {
  const StudyResult& result = report.result;
  Document out;
  out.program = program;
  out.title = report.plan.title;
  out.summary = plan_summary(report.plan, report.prepared.known, report.units);
  out.verdict = verdict(report);
  out.tone = tone_of(result.home.flat, report.plan.accept_risk);
  if (report.past) out.said_too = {past_years_sentence(*report.past)};
  out.steps = run_steps(report);
  out.parts = {risk_part(report), charge_part(report)};
  if (result.generator) out.parts.push_back(generator_part(report));
  out.parts.push_back(budget_part(report.plan, report.budget));
  if (report.guesses) out.parts.push_back(guesses_part(*report.guesses));
  out.notes = report_notes(report);
  out.cautions = report_cautions(report.plan);
  out.footer = study_footer(result.stays, result.seed, result.instruction_set);
  out.charts = Charts::run;
  out.head = run_head(report, program);
  out.results = run_results(report);
  out.chart_data = run_chart_data(report, out.results);
  return out;
}

Document budget_document(const Plan& plan, const PreparedPlan& prepared, const Budget& budget,
                         Units units) {
  Document out;
  out.title = plan.title;
  out.summary = plan_summary(plan, prepared.known, units);
  out.parts = {budget_part(plan, budget)};
  return out;
}

}  // namespace dullspell
