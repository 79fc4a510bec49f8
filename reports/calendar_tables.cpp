#include "reports/calendar_tables.hpp"

#include <algorithm>
#include <array>
#include <chrono>

#include <fmt/format.h>

#include "reports/calendar_verdict.hpp"
#include "reports/number_text.hpp"
#include "reports/risk_summary_parts.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

}  // namespace

Table weeks_table(const CalendarReport& report) {
  constexpr std::array kWeekdays{"Sundays",   "Mondays", "Tuesdays", "Wednesdays",
                                 "Thursdays", "Fridays", "Saturdays"};
  const bool generator = report.plan.generator.has_value();
  Table table{"weeks",
              fmt::format("By week of arrival ({}){}",
                          kWeekdays[std::chrono::weekday{report.plan.arrive}.c_encoding()],
                          generator ? ", generator left at home" : ""),
              {{"arrive", Align::left},
               {"works", Align::right, 1},
               {"flat"},
               {"sampling", Align::left},
               {"climate", Align::left, 2}},
              {},
              fmt::format("* the plan's own week. works: whether the risk is within the {} that "
                          "you accept. sampling: 95 % interval for this number of stays; climate: "
                          "the same with what the place's record cannot tell.",
                          accepted_text(report.plan.accept_risk)),
              4,
              "Bars: flat, and in light how far the climate interval reaches."};
  if (generator) {
    table.columns.push_back({"with gen", Align::right, 3});
    table.columns.push_back({"hours", Align::right, 5});
    table.columns.push_back({"1\u00A0in\u00A010", Align::right, 6});
  }
  // The first to make way, but where nothing else tells the rows apart.
  const bool only_hours_tell =
      std::all_of(report.weeks.begin(), report.weeks.end(),
                  [](const auto& week) { return tells_nothing(week.risk.flat); });
  table.columns.push_back({"hours flat", Align::right, only_hours_tell ? 1 : 7});
  double widest = 0.0;
  for (const CalendarWeek& week : report.weeks) {
    const RiskSummary& risk = week.risk;
    TableRow row{{week_cell(report, week), holds_word(standing(risk.flat, report.plan.accept_risk)),
                  percent(risk.flat), percent_interval(risk.flat), climate_cell(risk.flat_climate)},
                 ShareBar{risk.flat.p, risk.flat_climate.value_or(risk.flat.interval).high},
                 tone_of(risk.flat, report.plan.accept_risk)};
    if (risk.generator) {
      widest = std::max(widest, risk.generator->flat.interval.half_width());
      row.cells.push_back(percent(risk.generator->flat));
      row.cells.push_back(fmt::format("{:.1f}", risk.generator->hours_mean));
      row.cells.push_back(fmt::format("{:.1f}", risk.generator->hours_p90));
    }
    row.cells.push_back(fmt::format("{:.1f}", risk.flat_h));
    table.rows.push_back(std::move(row));
  }
  if (generator) {
    table.legend += fmt::format(
        " with gen: stays that run flat even with the generator along ({}); hours, and 1 in 10: "
        "how "
        "long it runs as planned, on average and in one stay of ten.",
        widest_along_text(widest));
  }
  return table;
}

Table weeks_along_table(const CalendarReport& report) {
  Table table{"along",
              "Risk with the generator along, run as planned",
              {{"arrive", Align::left}, {"works"}, {"flat even so"}, {"sampling"}, {"climate"}},
              {}};
  for (const CalendarWeek& week : report.weeks) {
    const GeneratorSummary& along = *week.risk.generator;
    table.rows.push_back(
        {{week_cell(report, week), holds_word(standing(along.flat, report.plan.accept_risk)),
          percent(along.flat), percent_interval(along.flat), climate_cell(along.flat_climate)}});
  }
  return table;
}

Table weeks_hours_table(const CalendarReport& report) {
  Table table{"hours",
              "Generator hours of a stay",
              {{"arrive", Align::left}, {"on average"}, {"1\u00A0in\u00A010"}},
              {}};
  for (const CalendarWeek& week : report.weeks) {
    const GeneratorSummary& along = *week.risk.generator;
    table.rows.push_back({{week_cell(report, week), fmt::format("{:.1f}", along.hours_mean),
                           fmt::format("{:.1f}", along.hours_p90)}});
  }
  return table;
}

}  // namespace dullspell
