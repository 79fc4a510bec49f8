#include "reports/calendar_document.hpp"

#include <optional>

#include <fmt/format.h>

#include "reports/calendar_data.hpp"
#include "reports/calendar_tables.hpp"
#include "reports/calendar_verdict.hpp"
#include "reports/cautions.hpp"
#include "reports/plan_summary.hpp"
#include "reports/risk_summary_parts.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

constexpr const char* kHowToRead =
    "Line: share of stays that run flat at some time, by week of arrival; a disc where the stay "
    "works, a triangle where it is too close to call, a cross where it does not. Thin marks: 95 % "
    "interval of sampling; pale band: the same with what the weather record cannot tell (climate). "
    "Dashes: the risk that you accept. Strip on top: filled where the stay works, hatched where it "
    "is too close to call, empty where it does not.";

Part weeks_part(const CalendarReport& report) {
  return {.heading = report.plan.generator ? "Risk by week of arrival, generator left at home"
                                           : "Risk by week of arrival",
          .how_to_read = kHowToRead,
          .size = ChartSize::wide,
          .blocks = {{weeks_table(report)}, {"* The plan's own week.", Shown::on_page}}};
}

Part along_part(const CalendarReport& report) {
  return {
      .heading = "Risk with the generator along",
      .how_to_read = fmt::format("Read as the chart above, for stays in which the generator is {}.",
                                 generator_rule(*report.plan.generator)),
      .blocks = {{weeks_along_table(report), Shown::on_page}}};
}

Part hours_part(const CalendarReport& report) {
  return {.heading = "Generator hours",
          .how_to_read =
              "Bars: hours that the generator runs as planned in an average stay, by week of "
              "arrival. Dashes above them: one stay in ten takes more.",
          .blocks = {{weeks_hours_table(report), Shown::on_page}}};
}

// The week nearest to the plan's own for which it is so, the later one of two, by weeks from it.
std::optional<int> nearest_week(const std::vector<bool>& so, std::size_t own) {
  const auto weeks = static_cast<int>(so.size());
  for (int away = 0; away <= weeks / 2; ++away) {
    for (const int step : {away, -away}) {
      if (so[static_cast<std::size_t>((static_cast<int>(own) + step + weeks) % weeks)]) return step;
    }
  }
  return std::nullopt;
}

std::string share_text(const Proportion& flat) {
  return fmt::format("{} ({})", in_words(flat), percent_interval(flat));
}

std::string move_step(const CalendarReport& report, int weeks) {
  const int all = static_cast<int>(report.weeks.size());
  const int to = (static_cast<int>(own_week(report)) + weeks + all) % all;
  const CalendarWeek& week = report.weeks[static_cast<std::size_t>(to)];
  const int away = weeks < 0 ? -weeks : weeks;
  return fmt::format(
      "Move the stay {} week{} {}, to {}, the nearest week that works{}: it runs flat there in "
      "{}; weeks farther into the season are safer.",
      away, away == 1 ? "" : "s", weeks < 0 ? "earlier" : "later", day_name(week.arrive),
      report.plan.generator ? " without the generator" : "", share_text(week.risk.flat));
}

std::string generator_step(const CalendarReport& report) {
  const CalendarWeek& own = report.weeks[own_week(report)];
  const GeneratorSummary& along = *own.risk.generator;
  const bool enough = standing(along.flat, report.plan.accept_risk) == RiskStanding::within;
  return fmt::format(
      "{}: with it along the stay runs flat in {}; it runs {:.1f} h on average, {:.1f} h in one "
      "stay of ten.",
      enough ? "In the plan's own week bring the generator"
             : "In the plan's own week the generator is not enough",
      share_text(along.flat), along.hours_mean, along.hours_p90);
}

// Where the generator makes the difference, and where not even that does.
void add_seasons(std::vector<Step>& steps, const CalendarReport& report,
                 const std::vector<bool>& holds) {
  std::vector<bool> needed = weeks_that_hold(report, Kit::generator_along);
  std::vector<bool> beyond(needed.size());
  for (std::size_t i = 0; i < needed.size(); ++i) {
    beyond[i] = !needed[i] && !holds[i];
    needed[i] = needed[i] && !holds[i];
  }
  const auto any = [](const std::vector<bool>& so) { return nearest_week(so, 0).has_value(); };
  if (any(needed)) {
    steps.push_back({fmt::format("Bring the generator {}: it makes the difference there.",
                                 season_text(report.weeks, needed))});
  }
  if (any(beyond)) {
    steps.push_back(
        {fmt::format("Stay at home or change the kit {}: even the generator is not enough.",
                     season_text(report.weeks, beyond))});
  }
}

std::vector<Step> calendar_steps(const CalendarReport& report) {
  const std::vector<bool> holds = weeks_that_hold(report, Kit::at_home);
  const std::size_t own = own_week(report);
  const auto nearest = nearest_week(holds, own);
  std::vector<Step> steps;
  if (holds[own]) {
    steps.push_back({fmt::format("Go as planned{}: the plan's own week works.",
                                 report.plan.generator ? " and leave the generator at home" : "")});
  } else if (nearest) {
    steps.push_back({move_step(report, *nearest)});
  }
  if (report.plan.generator) {
    if (!holds[own]) steps.push_back({generator_step(report)});
    add_seasons(steps, report, holds);
  }
  if (!holds[own]) steps.push_back(step_to_change_plan());
  steps.push_back(
      {"For the days of one week: `dullspell run` with `--set arrive=` and its date and hour."});
  return steps;
}

}  // namespace

Document calendar_document(const CalendarReport& report, std::string_view program) {
  Document out;
  out.program = program;
  out.title = report.plan.title;
  out.summary = plan_summary(report.plan, {});
  out.verdict = calendar_verdict(report);
  out.tone = calendar_tone(report);
  out.steps = calendar_steps(report);
  out.parts = {weeks_part(report)};
  if (report.plan.generator) {
    out.parts.push_back(along_part(report));
    out.parts.push_back(hours_part(report));
  }
  out.notes = calendar_notes(report);
  out.cautions = report_cautions(report.plan);
  out.footer = survey_footer(report.options);
  out.charts = Charts::calendar;
  out.head = calendar_head(report, program);
  out.results = calendar_results(report);
  return out;
}

}  // namespace dullspell
