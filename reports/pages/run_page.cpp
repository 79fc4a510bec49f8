#include "reports/pages/run_page.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "engine/guarding_load.hpp"
#include "reports/cautions.hpp"
#include "reports/hindcast_report.hpp"
#include "reports/json_report.hpp"
#include "reports/number_text.hpp"
#include "reports/pages/page.hpp"
#include "reports/pages/page_files.hpp"
#include "reports/run_tables.hpp"
#include "reports/text_report.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

PagePart risk_part(const RunReport& report) {
  Table table = days_table(report);
  table.title = report.result.generator ? "Risk by day, generator left at home" : "Risk by day";
  return {table.title,
          "Bars: share of stays that are flat at some time of that day. Line: share that have been "
          "flat by then. Thin marks: 95 % interval of sampling; broad pale bands: the same with "
          "what the weather record cannot tell (climate). Dashes: the risk that you accept.",
          table,
          "",
          true,
          false,
          true};
}

// The chart and its table show so many hours at most; longer stays every second, third ... one.
std::size_t hours_apart(std::size_t hours) {
  constexpr std::size_t kMost = 250;
  for (const std::size_t step : {1u, 2u, 3u, 4u, 6u, 8u, 12u}) {
    if (hours <= step * kMost) return step;
  }
  return 24;
}

PagePart charge_part(const RunReport& report) {
  const std::string heading =
      report.result.generator ? "State of charge, generator left at home" : "State of charge";
  Table table{
      "charge",
      heading + ": what 5, 25, 50, 75 and 95 of 100 stays are below, at the end of the hour",
      {{"hour from", Align::left}, {"5 %"}, {"25 %"}, {"50 %"}, {"75 %"}, {"95 %"}},
      {}};
  const auto& hours = report.result.home.hours;
  const std::size_t step = hours_apart(hours.size());
  for (std::size_t i = 0; i < hours.size(); i += step) {
    const HourSlot& slot = report.prepared.hours[hours[i].hour];
    const ChargeQuantiles& q = hours[i].charge;
    table.rows.push_back(
        {{fmt::format("{} {:02}:00",
                      short_date(report.prepared.dates[static_cast<std::size_t>(slot.day)]),
                      slot.hour_of_day),
          whole_percent(q.p05), whole_percent(q.p25), whole_percent(q.p50), whole_percent(q.p75),
          whole_percent(q.p95)}});
  }
  return {heading,
          "Line: the middle stay. Dark band: half of all stays; pale band: nine in ten. Shaded: "
          "sun below the horizon.",
          table, "", true};
}

// Entries of the histogram of generator hours up to the last that any stay reaches.
std::size_t hours_used(const GeneratorResult& along) {
  std::size_t used = along.hours_histogram.size();
  while (used > 1 && along.hours_histogram[used - 1] == 0.0) --used;
  return used;
}

PagePart generator_part(const RunReport& report) {
  const GeneratorResult& g = *report.result.generator;
  Table table{"generator",
              "Generator hours of a stay",
              {{"hours", Align::left}, {"share of stays"}, {"sampling"}},
              {}};
  const std::size_t used = hours_used(g);
  for (std::size_t i = 0; i < used; ++i) {
    const auto stays =
        std::llround(g.hours_histogram[i] * static_cast<double>(report.result.stays));
    const Proportion share(static_cast<std::uint64_t>(stays), report.result.stays);
    table.rows.push_back({{i == 0   ? std::string("none")
                           : i == 1 ? std::string("up to 1 h")
                                    : fmt::format("over {} up to {} h", i - 1, i),
                           percent(share), percent_interval(share)}});
  }
  return {"Generator hours",
          fmt::format("Share of stays by the hours that the generator runs in them, {}. Thin "
                      "marks: 95 % interval of sampling.",
                      generator_rule(*report.plan.generator)),
          table,
          html_table(generator_table(report)) + html_paragraph(generator_leaves(report)),
          false,
          true};
}

PagePart budget_part(const Plan& plan, const Budget& budget) {
  std::string after = html_paragraph(autonomy_text(budget));
  if (budget.camps.size() > 1) after += html_table(camps_table(plan, budget));
  return {"Energy of an average day",
          "What uses energy and what brings it, in Wh a day. Thin mark: panels from the dullest to "
          "the clearest day in ten.",
          budget_table(budget), after};
}

PagePart guesses_part(const GuessDoubt& doubt) {
  return {"What the plan guesses",
          guesses_sentence(doubt) + " Bars: the share of that doubt that each brings by itself.",
          guesses_table(doubt)};
}

std::string largest_uses(const Budget& budget) {
  std::vector<BudgetLine> lines = budget.lines;
  std::erase_if(lines,
                [](const BudgetLine& l) { return l.wh_per_day < 1.0 || guards_people(l.name); });
  std::stable_sort(lines.begin(), lines.end(),
                   [](const auto& a, const auto& b) { return a.wh_per_day > b.wh_per_day; });
  if (lines.empty()) return "";
  std::string names;
  for (std::size_t i = 0; i < std::min<std::size_t>(3, lines.size()); ++i) {
    names += fmt::format("{}{} ({} a day)", i == 0 ? "" : ", ", html_name(lines[i].name),
                         energy(lines[i].wh_per_day));
  }
  return fmt::format("Save first where most goes: {}.", names);
}

std::string fuel_step(const RunReport& report) {
  const double litres = report.result.generator->fuel_l.p99;
  std::string text =
      fmt::format("Bring fuel for {}: one stay in 100 burns more.", fuel(litres, report.units));
  if (const auto& tank_l = report.plan.generator->tank_l) {
    text +=
        fmt::format(" That is {:.1f} tanks of {}.", litres / *tank_l, tank(*tank_l, report.units));
  }
  return text;
}

std::vector<std::string> next_steps(const RunReport& report) {
  const StudyResult& result = report.result;
  const double accepted = report.plan.accept_risk;
  const bool holds = standing(result.home.flat, accepted) == RiskStanding::within;
  std::vector<std::string> steps;
  if (holds) {
    steps.push_back(result.generator
                        ? "Leave the generator at home, and keep to the plan's loads and hours: "
                          "the figures hold for them only."
                        : "Go as planned, and keep to the plan's loads and hours: the figures "
                          "hold for them only.");
  } else {
    if (result.generator) {
      constexpr double kHardlyAny_l = 0.05;  // shows as 0.0
      if (result.generator->fuel_l.p99 >= kHardlyAny_l) {
        steps.push_back(fuel_step(report));
      }
      steps.push_back(
          html_text(fmt::format("Run it as planned: {}.", generator_rule(*report.plan.generator))));
    }
    const auto& days = result.home.days;
    const auto beyond = std::find_if(days.begin(), days.end(), [&](const DayRisk& day) {
      return day.flat_by_day.interval.high > accepted;
    });
    if (const auto& usual = result.home.usual_failure; usual && beyond != days.end()) {
      steps.push_back(html_text(fmt::format(
          "Look at the battery in good time: from {} on the risk is beyond what you accept; the "
          "likeliest first time is {}.",
          short_date(beyond->date), night_name(report.prepared, usual->day, usual->hour_of_day))));
    }
    const std::string uses = largest_uses(report.budget);
    if (!uses.empty()) steps.push_back(uses);
    steps.push_back(step_to_change_plan());
  }
  const auto& climate = result.home.flat_climate;
  if (climate && climate->low < accepted && accepted < climate->high) {
    steps.push_back(
        "The weather record leaves the other answer open: look at the forecast before you leave, "
        "and run the plan again with it.");
  }
  if (report.guesses && !report.guesses->parts.empty()) {
    const auto& first = report.guesses->parts.front();
    steps.push_back(
        fmt::format("Measure {} first: of the doubt that the plan's guesses bring, {} "
                    "comes from it.",
                    html_name(first.name), whole_percent(first.share)));
  }
  return steps;
}

// To keep a page small: not every hour of a long stay, no generator hours that none reaches, and of
// hours and of the stay with the generator only what is drawn.
Json page_data(const RunReport& report, std::string_view program) {
  Json json = run_json(report, program);
  Json hours = Json::array();
  const std::size_t step = hours_apart(json["hours"].size());
  for (std::size_t i = 0; i < json["hours"].size(); i += step) hours.push_back(json["hours"][i]);
  for (Json& hour : hours) {
    hour.erase("camp");
    hour.erase("night");
  }
  json["hours"] = hours;
  json["hours_apart"] = step;
  if (report.result.generator) {
    Json& histogram = json["generator"]["hours_histogram"];
    const auto used = static_cast<Json::difference_type>(hours_used(*report.result.generator));
    histogram.erase(histogram.begin() + used, histogram.end());
    json["generator"].erase("days");
  }
  return to_six_digits(std::move(json));
}

}  // namespace

void write_run_page(std::ostream& out, const RunReport& report, std::string_view program) {
  const StudyResult& result = report.result;
  Page page;
  page.title = report.plan.title;
  page.summary = plan_summary(report.plan, report.prepared, report.units);
  page.tone = tone_of(result.home.flat, report.plan.accept_risk);
  page.verdict = verdict(report);
  if (report.past) page.said_too.push_back(past_years_sentence(*report.past));
  page.steps_html = next_steps(report);
  page.parts = {risk_part(report), charge_part(report)};
  if (result.generator) page.parts.push_back(generator_part(report));
  page.parts.push_back(budget_part(report.plan, report.budget));
  if (report.guesses) page.parts.push_back(guesses_part(*report.guesses));
  page.notes = report_notes(report);
  page.cautions = report_cautions(report.plan);
  page.footer = page_footer(program, result.stays, result.seed, result.instruction_set);
  page.script = run_script();
  page.data = page_data(report, program);
  write_page(out, page);
}

}  // namespace dullspell
