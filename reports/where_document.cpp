#include "reports/where_document.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "reports/cautions.hpp"
#include "reports/plan_summary.hpp"
#include "reports/risk_summary_parts.hpp"
#include "reports/verdict.hpp"
#include "reports/where_data.hpp"
#include "reports/where_tables.hpp"
#include "reports/where_verdict.hpp"

namespace dullspell {
namespace {

// What keeps a page small however many places there are, and are to be shown.
constexpr std::size_t kMostListed = 1000, kMostShown = 40;

std::size_t listed(const WhereReport& report) {
  return std::min(kMostListed, report.survey.ranked.size());
}

Part map_part(const WhereReport& report) {
  const bool generator = report.plan.generator.has_value();
  const std::size_t all = report.survey.ranked.size();
  Part part{
      .heading = generator ? "Where it works, generator left at home" : "Where it works",
      .how_to_read =
          std::string("Places by longitude and latitude, north on top: a disc where the stay "
                      "works, a triangle where it is too close to call, a cross where it does not. "
                      "Rings: the plan's own camps. Touch one to read it; Zoom in and Zoom out go "
                      "about the one touched last, at first the camp.") +
          (report.grid_deg > 0.0 ? " Squares: the cells about the places; lines: outlines of land."
                                 : ""),
      .size = ChartSize::wide,
      .blocks = {{map_table(report, kMostListed), Shown::on_page}}};
  std::string after;
  if (generator) {
    after += fmt::format("with gen: share that runs flat even with the generator along ({}).",
                         widest_along_text(widest_along(report, kMostListed)));
  }
  if (listed(report) < all) {
    after += fmt::format(" {} more are left out here: --csv writes all.",
                         places_text(all - listed(report)));
  }
  if (!after.empty()) part.blocks.push_back({after, Shown::on_page});
  return part;
}

Part places_part(const WhereReport& report) {
  const Table table = best_places_table(report, kMostShown);
  std::string after =
      "record: what the place's statistics rest on. Ties: the place comes first where most "
      "comes in for what is used.";
  if (std::min(report.top, report.survey.ranked.size()) > table.rows.size()) {
    after += fmt::format(" A page shows no more than {} in full: --csv writes all.",
                         places_text(kMostShown));
  }
  return {.heading = table.title,
          .how_to_read =
              "Bars: share of stays that run flat. Thin marks: 95 % interval of sampling; broad "
              "pale bands: the same with what the place's record cannot tell (climate). Dashes: "
              "the risk that you accept.",
          .size = ChartSize::wide,
          .table = ChartTable::shown,
          .blocks = {{best_places_table(report), Shown::in_text},
                     {table, Shown::on_page},
                     {after, Shown::on_page}}};
}

std::string share_text(const Proportion& flat) {
  return fmt::format("{} ({})", in_words(flat), percent_interval(flat));
}

Step best_step(const WhereReport& report, std::size_t holding) {
  constexpr std::size_t kNamed = 3;
  Prose text = fmt::format("Safest{}: ", report.plan.generator ? " without the generator" : "");
  for (std::size_t i = 0; i < std::min(kNamed, holding); ++i) {
    const SurveyedPlace& best = report.survey.ranked[i];
    if (i > 0) text += ", ";
    text += Prose::name(best.place->name) + fmt::format(" ({})", percent_interval(best.risk.flat));
  }
  return {text + "."};
}

// The nearest to the first camp of those that hold.
Step nearest_step(const WhereReport& report, std::size_t holding) {
  const auto& ranked = report.survey.ranked;
  const Coordinates& camp = report.plan.camps.front().where;
  const auto away = [&](const SurveyedPlace& place) {
    return distance_km(camp, place.place->where);
  };
  const auto nearest =
      std::min_element(ranked.begin(), ranked.begin() + static_cast<std::ptrdiff_t>(holding),
                       [&](const auto& a, const auto& b) { return away(a) < away(b); });
  return {fmt::format("Nearest to {} camp of those where it works: ",
                      report.plan.camps.size() == 1 ? "the plan's" : "the plan's first") +
          Prose::name(nearest->place->name) +
          fmt::format(", {} away; it runs flat there in {}.",
                      distance(away(*nearest), report.units), share_text(nearest->risk.flat))};
}

const char* camps_word(const WhereReport& report) {
  return report.plan.camps.size() == 1 ? "camp" : "camps";
}

Step generator_step(const WhereReport& report, std::size_t holding) {
  const GeneratorSummary& along = *report.as_planned.generator;
  const bool enough = standing(along.flat, report.plan.accept_risk) == RiskStanding::within;
  return {fmt::format(
      "{} at the plan's own {}: with it along the stay runs flat in {}; it runs {:.1f} h on "
      "average, {:.1f} h in one stay of ten.",
      !enough       ? "The generator is not enough"
      : holding > 0 ? "Or bring the generator"
                    : "Bring the generator",
      camps_word(report), share_text(along.flat), along.hours_mean, along.hours_p90)};
}

std::vector<Step> where_steps(const WhereReport& report) {
  const std::size_t holding = places_standing(report, RiskStanding::within);
  const RiskSummary& own = report.as_planned;
  const bool holds = standing(own.flat, report.plan.accept_risk) == RiskStanding::within;
  std::vector<Step> steps;
  if (holds) {
    steps.push_back({fmt::format("Go as planned{}: it works at the plan's own {}.",
                                 report.plan.generator ? " and leave the generator at home" : "",
                                 camps_word(report))});
  }
  if (holding > 0) {
    steps.push_back(best_step(report, holding));
    if (!holds) steps.push_back(nearest_step(report, holding));
  }
  if (own.generator && !holds) steps.push_back(generator_step(report, holding));
  if (!holds) steps.push_back(step_to_change_plan());
  steps.push_back({fmt::format(
      "For the days of one place: `dullspell run` with `--set camp[1].place=` and its {}{}.",
      report.grid_deg > 0.0 ? "middle, as in `'camp[1].place={latitude=41.5,longitude=-124.5}'`"
                            : "id, which `dullspell places` lists",
      report.plan.camps.size() == 1 ? "" : ", and the same for every other camp")});
  return steps;
}

std::string where_footer(const OutcomeOptions& options) {
  if (options.stays <= kFirstLookStays) return survey_footer(options);
  return fmt::format("{} stays a place, {} where those settle it, seed {}. Intervals are 95 %.",
                     grouped(options.stays), grouped(kFirstLookStays), options.seed);
}

}  // namespace

Document where_document(const WhereReport& report, std::string_view program) {
  Document out;
  out.program = program;
  out.title = report.plan.title;
  out.summary = plan_summary(report.plan, {});
  out.verdict = where_verdict(report);
  out.tone = where_tone(report);
  out.steps = where_steps(report);
  if (!report.survey.ranked.empty()) out.parts = {map_part(report), places_part(report)};
  out.notes = where_notes(report);
  out.cautions = report_cautions(report.plan);
  out.footer = where_footer(report.options);
  out.charts = Charts::where;
  out.head = where_head(report, program);
  out.results = where_results(report);
  out.chart_data =
      where_chart_data(report, out.results, listed(report),
                       std::min({report.top, kMostShown, report.survey.ranked.size()}));
  out.not_charted = {"left_out"};
  return out;
}

}  // namespace dullspell
