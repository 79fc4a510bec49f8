#include "reports/hindcast_document.hpp"

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/hindcast_data.hpp"
#include "reports/hindcast_tables.hpp"
#include "reports/hindcast_verdict.hpp"
#include "reports/number_text.hpp"
#include "reports/plan_summary.hpp"

namespace dullspell {
namespace {

Part days_part(const HindcastReport& report) {
  const Table table = past_days_table(report);
  return {.heading = table.title,
          .how_to_read =
              "Squares: share of past periods that have been flat by then; thin marks: their 95 % "
              "interval, for which years count. Line with discs: the model; broad pale bands: its "
              "interval with what the weather record cannot tell (climate). Dashes: the risk that "
              "you accept.",
          .size = ChartSize::wide,
          .table = ChartTable::shown,
          .blocks = {{table}}};
}

// A text names the worst years alone. Of a typical year a page has no chart of years.
Part years_part(const HindcastReport& report) {
  constexpr std::size_t kShown = 5;
  const HindcastResult& past = report.past.result;
  Part part;
  Table worst = years_table(report, worst_years(past, kShown));
  if (worst.rows.empty()) {
    part.text_heading = years_never_flat(past);
  } else {
    worst.title = "Worst years";
    part.blocks = {{worst, Shown::in_text}, {years_never_flat(past), Shown::in_text}};
  }
  if (report.past.record.typical_year) return part;
  part.heading = "The years";
  part.how_to_read =
      "Bars: share of a year's periods that run flat; a year without a bar has none. Years in "
      "which the record holds no whole period are not here.";
  part.size = ChartSize::wide;
  part.blocks.push_back({years_table(report, past.years), Shown::on_page});
  part.blocks.push_back({years_never_flat(past), Shown::on_page});
  return part;
}

Part generator_part(const HindcastReport& report) {
  return {.heading = "Generator hours",
          .how_to_read = fmt::format("Hours that the generator runs in a stay, {}.",
                                     generator_rule(*report.plan.generator)),
          .blocks = {{past_generator_table(report)}}};
}

std::string agreement_step(const HindcastReport& report) {
  if (report.past.record.typical_year) {
    return "Look for a record of ten years or more: months put together from several years cannot "
           "bear the model out.";
  }
  if (agree(report)) {
    return "Plan by the greater of the two shares: they differ by no more than either can tell.";
  }
  return "Find out which of the two lies nearer to the camp: `dullspell fit` makes a "
         "place of the record, to run the plan on.";
}

std::vector<Step> hindcast_steps(const HindcastReport& report) {
  const HindcastResult& past = report.past.result;
  std::vector<Step> steps{{agreement_step(report)}};
  const auto worst = worst_years(past, 1);
  if (!worst.empty() && !report.past.record.typical_year) {
    const PastYear& year = worst.front();
    std::string text = fmt::format(
        "Be ready for a year like {}: {} of {} periods ran flat, at the earliest on {}, with {} "
        "missing in the average one.",
        year.year, year.flat, year.periods,
        short_date(report.prepared.dates[static_cast<std::size_t>(*year.first_flat_day)]),
        energy(year.shortfall_wh));
    if (past.flat_along) {
      text += fmt::format(
          " With the generator along {}.",
          year.flat_along == 0 ? "none of them did" : fmt::format("{} still did", year.flat_along));
    }
    steps.push_back({text});
  }
  if (hindcast_tone(report) != Tone::holds) steps.push_back(step_to_change_plan());
  return steps;
}

}  // namespace

Document hindcast_document(const HindcastReport& report, std::string_view program) {
  Document out;
  out.program = program;
  out.title = report.plan.title;
  out.summary = plan_summary(report.plan, report.prepared.known);
  out.verdict = hindcast_verdict(report);
  out.tone = hindcast_tone(report);
  out.steps = hindcast_steps(report);
  out.parts = {days_part(report), years_part(report)};
  if (tells_generator(report)) out.parts.push_back(generator_part(report));
  out.notes = hindcast_notes(report);
  out.cautions = report_cautions(report.plan);
  out.footer = hindcast_footer(report);
  out.charts = Charts::hindcast;
  out.head = hindcast_head(report, program);
  out.results = hindcast_results(report);
  out.chart_data = hindcast_chart_data(report);
  return out;
}

}  // namespace dullspell
