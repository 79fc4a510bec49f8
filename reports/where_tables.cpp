#include "reports/where_tables.hpp"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "reports/number_text.hpp"
#include "reports/places_document.hpp"
#include "reports/risk_summary_parts.hpp"
#include "reports/where_verdict.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

std::string group_name(const WhereReport& report, RiskStanding standing) {
  const std::string places = places_text(places_standing(report, standing));
  switch (standing) {
    case RiskStanding::within:
      return fmt::format("works at {}:", places);
    case RiskStanding::too_close:
      return fmt::format("too close to call at {}:", places);
    case RiskStanding::exceeded:
      return fmt::format("does not work at {}:", places);
  }
  return {};
}

}  // namespace

Table best_places_table(const WhereReport& report, std::size_t most) {
  const bool generator = report.plan.generator.has_value();
  const auto& circle = report.filter.circle;
  const std::size_t shown = std::min({report.top, most, report.survey.ranked.size()});
  Table table{"places",
              fmt::format("{}{}, the safest first",
                          shown < report.survey.ranked.size()
                              ? fmt::format("The best {}", places_text(shown))
                              : std::string("All places"),
                          generator ? ", generator left at home" : ""),
              {{"place", Align::left}},
              {},
              "Ties: the place comes first where most comes in for what is used. sampling: "
              "95 % interval for this number of stays; climate: the same with what the place's "
              "record cannot tell.",
              4,
              "Bars: flat, and in light how far the climate interval reaches."};
  table.columns.insert(table.columns.end(), {{"works", Align::right, 1},
                                             {"flat"},
                                             {"sampling", Align::left},
                                             {"climate", Align::left, 2}});
  if (generator) {
    table.columns.push_back({"with gen", Align::right, 3});
    table.columns.push_back({"hours", Align::right, 6});
  }
  if (circle) table.columns.push_back({"away", Align::right, 4});
  table.columns.push_back({"record", Align::left, 5});
  // The first to make way, but where nothing else tells the rows apart.
  const bool only_hours_tell =
      std::all_of(report.survey.ranked.begin(), report.survey.ranked.end(),
                  [](const auto& place) { return tells_nothing(place.risk.flat); });
  table.columns.push_back({"hours flat", Align::right, only_hours_tell ? 1 : 7});
  double widest = 0.0;
  for (std::size_t i = 0; i < shown; ++i) {
    const PlaceSummary* const place = report.survey.ranked[i].place;
    const RiskSummary& risk = report.survey.ranked[i].risk;
    TableRow row{{place->name, holds_word(standing(risk.flat, report.plan.accept_risk)),
                  percent(risk.flat), percent_interval(risk.flat), climate_cell(risk.flat_climate)},
                 ShareBar{risk.flat.p, risk.flat_climate.value_or(risk.flat.interval).high},
                 tone_of(risk.flat, report.plan.accept_risk)};
    if (generator) {
      widest = std::max(widest, risk.generator->flat.interval.half_width());
      row.cells.push_back(percent(risk.generator->flat));
      row.cells.push_back(fmt::format("{:.1f}", risk.generator->hours_mean));
    }
    if (circle) {
      row.cells.push_back(distance(distance_km(circle->centre, place->where), report.units));
    }
    row.cells.push_back(short_word(place->record));
    row.cells.push_back(fmt::format("{:.1f}", risk.flat_h));
    table.rows.push_back(std::move(row));
  }
  if (generator) {
    table.legend += fmt::format(
        " with gen: stays that run flat even with the generator along ({}); hours, in a window "
        "with "
        "room for them: how long it runs as planned, on average.",
        widest_along_text(widest));
  }
  return table;
}

// Few columns: there may be a thousand rows.
Table map_table(const WhereReport& report, std::size_t most) {
  const bool generator = report.plan.generator.has_value();
  const auto& ranked = report.survey.ranked;
  const std::size_t shown = std::min(most, ranked.size());
  Table table{"map",
              fmt::format("{} by risk{}",
                          shown < ranked.size() ? fmt::format("The best {}", places_text(shown))
                                                : "All " + places_text(ranked.size()),
                          generator ? ", generator left at home" : ""),
              {{"place", Align::left}, {"flat"}, {"sampling"}},
              {}};
  if (generator) table.columns.push_back({"with gen"});
  std::optional<RiskStanding> group;
  for (std::size_t i = 0; i < shown; ++i) {
    const RiskSummary& risk = ranked[i].risk;
    const RiskStanding stands = standing(risk.flat, report.plan.accept_risk);
    if (group != stands) table.rows.push_back({{group_name(report, stands)}});
    group = stands;
    table.rows.push_back(
        {{ranked[i].place->name, percent(risk.flat), percent_interval(risk.flat)}});
    if (generator) table.rows.back().cells.push_back(percent(risk.generator->flat));
  }
  return table;
}

double widest_along(const WhereReport& report, std::size_t most) {
  const auto& ranked = report.survey.ranked;
  double widest = 0.0;
  for (std::size_t i = 0; i < std::min(most, ranked.size()); ++i) {
    widest = std::max(widest, ranked[i].risk.generator->flat.interval.half_width());
  }
  return widest;
}

}  // namespace dullspell
