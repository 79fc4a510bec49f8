#include "reports/run_document.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/generator_tables.hpp"
#include "reports/hindcast_verdict.hpp"
#include "reports/plan_summary.hpp"
#include "reports/run_data.hpp"
#include "reports/run_steps.hpp"
#include "reports/run_tables.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

std::vector<KeyFigure> key_figures(const RunReport& report) {
  const StudyResult& result = report.result;
  const bool has_generator = result.generator.has_value();
  const TrackRisk& along = risk_as_planned(result);
  const auto hours = [](double h) { return fmt::format("{:.0f} h", h); };
  const auto figure = [&](std::string says, std::string home, std::string with_it) {
    if (!has_generator) return KeyFigure{std::move(says), {{std::move(home)}}};
    return KeyFigure{std::move(says),
                     {{std::move(home), "without generator"}, {std::move(with_it), "with it"}}};
  };
  std::vector<KeyFigure> figures{
      figure("stays in 100 that run flat", of_hundred(result.home.flat), of_hundred(along.flat)),
      figure("hours flat in a bad stay (1 in 10)", hours(result.home.flat_h.p90),
             hours(along.flat_h.p90))};
  if (has_generator) {
    const GeneratorResult& g = *result.generator;
    figures.push_back(
        figure("generator hours and fuel, 1 stay in 10", "none",
               fmt::format("{:.1f} h, {}", g.hours.p90,
                           fuel(g.fuel_l.p90, report.plan.generator->fuel, report.units))));
  } else {
    figures.push_back(
        figure("energy missing in a bad stay (1 in 10)", energy(result.home.missing_wh.p90), ""));
  }
  return figures;
}

Part stay_part(const RunReport& report) {
  Part part{.text_heading = "What goes flat in one stay",
            .place = PartPlace::under_verdict,
            .blocks = {{stay_table(report)}}};
  const std::string home = flat_hours_text(report.result.home);
  if (home.empty()) return part;
  std::string text = "Flat hours fall " + home;
  if (report.result.generator) {
    const std::string along = flat_hours_text(report.result.generator->risk);
    text += along.empty() ? " without the generator; with it there are none"
                          : fmt::format(" without the generator, {} with it", along);
  }
  part.blocks.push_back({text + "."});
  return part;
}

Part risk_part(const RunReport& report, Track track) {
  const Table days = days_table(report, track);
  Part part{
      .heading = "Risk by day" + on_track(report, track),
      .how_to_read =
          "Bars: share of stays that are flat at some time of that day. Line: share that have been "
          "flat by then. Thin marks: 95 % interval of sampling; broad pale bands: the same with "
          "what the weather record cannot tell (climate). Dashes: the risk that you accept.",
      .size = ChartSize::wide,
      .table = track == Track::home ? ChartTable::shown : ChartTable::on_demand};
  Table captioned = days;
  captioned.title = part.heading;
  part.blocks = {{days, Shown::in_text}, {captioned, Shown::on_page}};
  return part;
}

Part charge_part(const RunReport& report, Track track) {
  Table table = charge_table(report, track);
  const std::string heading = "State of charge" + on_track(report, track);
  table.title =
      heading + ": what 5, 25, 50, 75 and 95 of 100 stays are below, at the end of the hour";
  return {.heading = heading,
          .how_to_read =
              "Line: the typical stay. Dark band: half of all stays; pale band: nine in ten. "
              "Shaded: sun below the horizon.",
          .size = ChartSize::wide,
          .blocks = {{table, Shown::on_page}}};
}

Part generator_part(const RunReport& report) {
  const std::string rule = generator_rule(*report.plan.generator);
  Part part{.heading = "Generator hours",
            .how_to_read =
                fmt::format("Share of stays by the hours that the generator runs in them, {}. Thin "
                            "marks: 95 % interval of sampling.",
                            rule),
            .size = ChartSize::tall,
            .text_heading = report.plan.now ? "Generator run as planned" : "Generator along",
            .blocks = {{rule + ".", Shown::in_text},
                       {generator_hours_table(report), Shown::on_page},
                       {generator_table(report)},
                       {generator_leaves(report)}}};
  if (report.plan.generator->rule == GeneratorRule::below) return part;
  // What people need at camp, where a page is all that they have.
  if (Table levels = levels_table(report.prepared); !levels.rows.empty()) {
    part.blocks.push_back({std::move(levels), Shown::on_page});
  }
  return part;
}

// Days are not average: beyond the stay's own length a figure would only mislead.
std::string deficit_text(const Plan& plan, const Budget& budget) {
  const double balance =
      budget.panels_wh_per_day + budget.vehicle_wh_per_day - budget.draw_wh_per_day;
  if (balance >= -0.01 * budget.draw_wh_per_day) return "";
  std::string text =
      fmt::format("On an average day you use {} more than comes in", energy(-balance));
  const double days = budget.usable_wh / -balance;
  if (days < plan.nights()) {
    text += fmt::format(": a full battery lasts about {:.1f} such days", days);
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
  if (Table forecast = forecast_table(budget); !forecast.rows.empty()) {
    part.blocks.push_back({std::move(forecast)});
  }
  return part;
}

Part guesses_part(const Plan& plan, const GuessDoubt& doubt) {
  const std::string sentence = guesses_sentence(plan, doubt);
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
  out.summary = plan_summary(report.plan, report.prepared.known);
  out.verdict = verdict(report);
  out.tone = tone_of(result.home.flat, report.plan.accept_risk);
  out.figures = key_figures(report);
  if (report.past) out.said_too = {past_years_sentence(*report.past)};
  out.steps = run_steps(report);
  out.parts = {stay_part(report), risk_part(report, Track::home)};
  if (result.generator) out.parts.push_back(risk_part(report, Track::along));
  out.parts.push_back(charge_part(report, Track::home));
  if (result.generator) {
    out.parts.push_back(charge_part(report, Track::along));
    out.parts.push_back(generator_part(report));
  }
  out.parts.push_back(budget_part(report.plan, report.budget));
  if (report.guesses) out.parts.push_back(guesses_part(report.plan, *report.guesses));
  out.notes = report_notes(report);
  out.cautions = report_cautions(report.plan);
  out.footer = study_footer(result.stays, result.seed);
  out.charts = Charts::run;
  out.head = run_head(report, program);
  out.results = run_results(report);
  out.chart_data = run_chart_data(report, out.results);
  return out;
}

Document budget_document(const Plan& plan, const PreparedPlan& prepared, const Budget& budget) {
  Document out;
  out.title = plan.title;
  out.summary = plan_summary(plan, prepared.known);
  out.parts = {budget_part(plan, budget)};
  return out;
}

}  // namespace dullspell
