#include "reports/pages/where_page.hpp"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/number_text.hpp"
#include "reports/pages/page.hpp"
#include "reports/pages/page_files.hpp"
#include "reports/risk_summary_parts.hpp"
#include "reports/text_report.hpp"
#include "reports/verdict.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

// What keeps a page small however many places there are, and are to be shown.
constexpr std::size_t kMostListed = 1000, kMostShown = 40;

std::size_t listed(const WhereReport& report) {
  return std::min(kMostListed, report.survey.ranked.size());
}

std::string group_name(const WhereReport& report, RiskStanding standing) {
  const std::string places = places_text(places_standing(report, standing));
  switch (standing) {
    case RiskStanding::within:
      return fmt::format("holds at {}:", places);
    case RiskStanding::too_close:
      return fmt::format("too close to call at {}:", places);
    case RiskStanding::exceeded:
      return fmt::format("does not hold at {}:", places);
  }
  return {};
}

// Few columns: there may be a thousand rows.
PagePart map_part(const WhereReport& report) {
  const bool generator = report.plan.generator.has_value();
  const auto& ranked = report.survey.ranked;
  Table table{"map",
              fmt::format("{} by risk{}",
                          listed(report) < ranked.size()
                              ? fmt::format("The best {}", places_text(listed(report)))
                              : "All " + places_text(ranked.size()),
                          generator ? ", generator left at home" : ""),
              {{"place", Align::left}, {"flat"}, {"sampling"}},
              {}};
  if (generator) table.columns.push_back({"with gen"});
  double widest = 0.0;
  std::optional<RiskStanding> group;
  for (std::size_t i = 0; i < listed(report); ++i) {
    const RiskSummary& risk = ranked[i].risk;
    const RiskStanding stands = standing(risk.flat, report.plan.accept_risk);
    if (group != stands) table.rows.push_back({{group_name(report, stands)}});
    group = stands;
    table.rows.push_back(
        {{ranked[i].place->name, percent(risk.flat), percent_interval(risk.flat)}});
    if (generator) {
      widest = std::max(widest, risk.generator->flat.interval.half_width());
      table.rows.back().cells.push_back(percent(risk.generator->flat));
    }
  }
  std::string after;
  if (generator) {
    after += fmt::format("with gen: share that runs flat even with the generator along ({}).",
                         widest_along_text(widest));
  }
  if (listed(report) < ranked.size()) {
    after += fmt::format(" {} more are left out here: --csv writes all.",
                         places_text(ranked.size() - listed(report)));
  }
  return {
      generator ? "Where it holds, generator left at home" : "Where it holds",
      "Places by longitude and latitude, north on top: a disc where the stay holds, a triangle "
      "where it is too close to call, a cross where it does not. Rings: the plan's own camps. "
      "Touch one to read it; Closer and Wider turn about the one touched last, at first the camp.",
      table, after.empty() ? "" : html_paragraph(after), true};
}

PagePart places_part(const WhereReport& report) {
  const Table table = best_places_table(report, kMostShown);
  std::string after =
      "record: what the place's statistics rest on. Among equals the place comes first where most "
      "comes in for what is used.";
  if (std::min(report.top, report.survey.ranked.size()) > table.rows.size()) {
    after += fmt::format(" A page shows no more than {} in full: --csv writes all.",
                         places_text(kMostShown));
  }
  return {table.title,
          "Bars: share of stays that run flat. Thin marks: 95 % interval of sampling; broad pale "
          "bands: the same with what the place's record cannot tell (climate). Dashes: the risk "
          "that you accept.",
          table,
          html_paragraph(after),
          true,
          false,
          true};
}

std::string share_text(const Proportion& flat) {
  return fmt::format("{} ({})", in_words(flat), percent_interval(flat));
}

std::string best_step(const WhereReport& report, std::size_t holding) {
  constexpr std::size_t kNamed = 3;
  std::string names;
  for (std::size_t i = 0; i < std::min(kNamed, holding); ++i) {
    const SurveyedPlace& best = report.survey.ranked[i];
    names += fmt::format("{}{} ({})", i == 0 ? "" : ", ", html_name(best.place->name),
                         percent_interval(best.risk.flat));
  }
  return fmt::format("Surest{}: {}.", report.plan.generator ? " without the generator" : "", names);
}

// The nearest to the first camp of those that hold.
std::string nearest_step(const WhereReport& report, std::size_t holding) {
  const auto& ranked = report.survey.ranked;
  const Coordinates& camp = report.plan.camps.front().where;
  const auto away = [&](const SurveyedPlace& place) {
    return distance_km(camp, place.place->where);
  };
  const auto nearest =
      std::min_element(ranked.begin(), ranked.begin() + static_cast<std::ptrdiff_t>(holding),
                       [&](const auto& a, const auto& b) { return away(a) < away(b); });
  return fmt::format(
      "Nearest to {} camp of those that hold: {}, {} away; it runs flat there in {}.",
      report.plan.camps.size() == 1 ? "the plan's" : "the plan's first",
      html_name(nearest->place->name), distance(away(*nearest), report.units),
      html_text(share_text(nearest->risk.flat)));
}

std::vector<std::string> next_steps(const WhereReport& report) {
  const double accepted = report.plan.accept_risk;
  const std::size_t holding = places_standing(report, RiskStanding::within);
  const RiskSummary& own = report.as_planned;
  const bool holds = standing(own.flat, accepted) == RiskStanding::within;
  const char* camps = report.plan.camps.size() == 1 ? "camp" : "camps";
  std::vector<std::string> steps;
  if (holds) {
    steps.push_back(fmt::format("Go as planned{}: it holds at the plan's own {}.",
                                report.plan.generator ? " and leave the generator at home" : "",
                                camps));
  }
  if (holding > 0) {
    steps.push_back(best_step(report, holding));
    if (!holds) steps.push_back(nearest_step(report, holding));
  }
  if (own.generator && !holds) {
    const GeneratorSummary& along = *own.generator;
    const bool enough = standing(along.flat, accepted) == RiskStanding::within;
    steps.push_back(html_text(fmt::format(
        "{} at the plan's own {}: with it along the stay runs flat in {}; it runs {:.1f} h on "
        "average, {:.1f} h in one stay of ten.",
        !enough       ? "The generator is not enough"
        : holding > 0 ? "Or bring the generator"
                      : "Bring the generator",
        camps, share_text(along.flat), along.hours_mean, along.hours_p90)));
  }
  if (!holds) {
    steps.push_back(step_to_change_plan());
  }
  steps.push_back(
      report.plan.camps.size() == 1
          ? "For the days of one place: <code>dullspell run</code> with <code>--set "
            "camp[1].place=</code> and its id, which <code>dullspell places</code> lists."
          : "For the days of one place: <code>dullspell run</code> with <code>--set "
            "camp[1].place=</code> and its id, which <code>dullspell places</code> lists, and the "
            "same for every other camp.");
  return steps;
}

// In full what the table shows in full; of all places only what the plot draws.
Json page_data(const WhereReport& report, std::string_view program, std::size_t shown) {
  Json json = where_json(report, program);
  Json latitudes = Json::array(), longitudes = Json::array();
  for (std::size_t i = 0; i < listed(report); ++i) {
    latitudes.push_back(json["places"][i]["latitude"]);
    longitudes.push_back(json["places"][i]["longitude"]);
  }
  Json& places = json["places"];
  places.erase(places.begin() + static_cast<Json::difference_type>(shown), places.end());
  json.erase("left_out");
  json["map"] = {{"latitude", latitudes},
                 {"longitude", longitudes},
                 {"yes", places_standing(report, RiskStanding::within)},
                 {"close", places_standing(report, RiskStanding::too_close)}};
  return to_six_digits(std::move(json));
}

}  // namespace

void write_where_page(std::ostream& out, const WhereReport& report, std::string_view program) {
  Page page;
  page.title = report.plan.title;
  page.summary = plan_summary(report.plan, prepare(report.plan), report.units);
  page.tone = where_tone(report);
  page.verdict = where_verdict(report);
  page.steps_html = next_steps(report);
  std::size_t shown = 0;
  if (!report.survey.ranked.empty()) {
    page.parts = {map_part(report), places_part(report)};
    shown = page.parts.back().table.rows.size();
  }
  page.notes = where_notes(report);
  page.cautions = report_cautions(report.plan);
  page.footer = fmt::format("{}: {}", program, survey_footer(report.options));
  page.script = where_script();
  page.data = page_data(report, program, shown);
  write_page(out, page);
}

}  // namespace dullspell
