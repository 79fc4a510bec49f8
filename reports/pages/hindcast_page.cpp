#include "reports/pages/hindcast_page.hpp"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/number_text.hpp"
#include "reports/pages/page.hpp"
#include "reports/pages/page_files.hpp"
#include "reports/text_report.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

PagePart days_part(const HindcastReport& report) {
  const Table table = past_days_table(report);
  return {table.title,
          "Squares: share of past periods that have been flat by then; thin marks: their 95 % "
          "interval, for which years count. Line with discs: the model; broad pale bands: its "
          "interval with what the weather record cannot tell (climate). Dashes: the risk that you "
          "accept.",
          table,
          "",
          true,
          false,
          true};
}

PagePart years_part(const HindcastReport& report) {
  Table table = years_table(report, report.past.result.years);
  return {"The years",
          "Bars: share of a year's periods that run flat; a year without a bar has none. Years in "
          "which the record holds no whole period are not here.",
          table, html_paragraph(years_never_flat(report.past.result)), true};
}

PagePart generator_part(const HindcastReport& report) {
  return {"Generator hours",
          fmt::format("Hours that the generator runs in a stay, {}.",
                      generator_rule(*report.plan.generator)),
          past_generator_table(report)};
}

std::string agreement_step(const HindcastReport& report) {
  if (report.past.record.typical_year) {
    return "Look for a record of ten years or more: months put together from several years cannot "
           "bear the model out.";
  }
  if (agree(report)) {
    return "Plan by the greater of the two shares: they differ by no more than either can tell.";
  }
  return "Find out which of the two lies nearer to the camp: <code>dullspell fit</code> makes a "
         "place of the record, to run the plan on.";
}

std::vector<std::string> next_steps(const HindcastReport& report) {
  const HindcastResult& past = report.past.result;
  std::vector<std::string> steps{agreement_step(report)};
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
    steps.push_back(html_text(text));
  }
  if (hindcast_tone(report) != Tone::holds) {
    steps.push_back(step_to_change_plan());
  }
  return steps;
}

// With what only the charts need.
Json page_data(const HindcastReport& report, std::string_view program) {
  Json json = hindcast_json(report, program);
  json["accept_risk"] = report.plan.accept_risk;
  if (tells_generator(report)) {
    json["model"]["generator_hours"] = spread(report.predicted.generator->hours);
  }
  return to_six_digits(std::move(json));
}

}  // namespace

void write_hindcast_page(std::ostream& out, const HindcastReport& report,
                         std::string_view program) {
  Page page;
  page.title = report.plan.title;
  page.summary = plan_summary(report.plan, report.prepared, report.units);
  page.tone = hindcast_tone(report);
  page.verdict = hindcast_verdict(report);
  page.steps_html = next_steps(report);
  page.parts = {days_part(report)};
  if (!report.past.record.typical_year) page.parts.push_back(years_part(report));
  if (tells_generator(report)) page.parts.push_back(generator_part(report));
  page.notes = hindcast_notes(report);
  page.cautions = report_cautions(report.plan);
  page.footer = fmt::format("{}: {}", program, hindcast_footer(report));
  page.script = hindcast_script();
  page.data = page_data(report, program);
  write_page(out, page);
}

}  // namespace dullspell
