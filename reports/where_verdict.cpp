#include "reports/where_verdict.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "reports/note_text.hpp"
#include "reports/number_text.hpp"
#include "reports/risk_summary_parts.hpp"

namespace dullspell {
namespace {

const Proportion& at_home(const RiskSummary& risk) {
  return risk.flat;
}

const Proportion& along(const RiskSummary& risk) {
  return risk.generator->flat;
}

// Whose risk is asked about.
using Share = const Proportion& (*)(const RiskSummary&);

std::size_t count(const WhereReport& report, RiskStanding wanted, Share share) {
  const auto& ranked = report.survey.ranked;
  return static_cast<std::size_t>(
      std::count_if(ranked.begin(), ranked.end(), [&](const SurveyedPlace& place) {
        return standing(share(place.risk), report.plan.accept_risk) == wanted;
      }));
}

std::string holding_text(const WhereReport& report, Share share) {
  const std::size_t all = report.survey.ranked.size();
  const std::size_t holds = count(report, RiskStanding::within, share);
  const std::size_t close = count(report, RiskStanding::too_close, share);
  return fmt::format("at {}{}",
                     holds == 0     ? fmt::format("none of {}", places_text(all))
                     : holds == all ? fmt::format("all {}", places_text(all))
                                    : fmt::format("{} of {}", grouped(holds), places_text(all)),
                     close > 0 ? fmt::format("; at {}{} it is too close to call", grouped(close),
                                             holds > 0 ? " more" : "")
                               : "");
}

// Why places were left out, and how many for each reason.
std::map<std::string, std::size_t> reasons(const PlaceSurvey& survey) {
  std::map<std::string, std::size_t> out;
  for (const LeftOutPlace& place : survey.left_out) ++out[place.why];
  return out;
}

}  // namespace

std::string places_text(std::size_t places) {
  return fmt::format("{} place{}", grouped(places), places == 1 ? "" : "s");
}

std::size_t places_standing(const WhereReport& report, RiskStanding wanted) {
  return count(report, wanted, at_home);
}

Tone where_tone(const WhereReport& report) {
  const std::size_t holding = places_standing(report, RiskStanding::within);
  if (report.survey.ranked.empty()) return Tone::plain;
  if (holding == report.survey.ranked.size()) return Tone::holds;
  if (holding > 0) return Tone::plain;
  return places_standing(report, RiskStanding::too_close) > 0 ? Tone::close : Tone::fails;
}

std::string where_verdict(const WhereReport& report) {
  const auto& ranked = report.survey.ranked;
  if (ranked.empty())
    return "None of the places could be asked about: see below why they are left out.";
  const bool generator = report.plan.generator.has_value();
  std::string text =
      fmt::format("{} {}. You accept {}.",
                  generator ? "Without its generator this stay works" : "This stay works",
                  holding_text(report, at_home), accepted_text(report.plan.accept_risk));
  text += fmt::format(" At the plan's own {} it runs flat in {} ({}).",
                      report.plan.camps.size() == 1 ? "camp" : "camps",
                      in_words(report.as_planned.flat), percent_interval(report.as_planned.flat));
  const double least = ranked.front().risk.flat.p;
  const auto best = std::count_if(ranked.begin(), ranked.end(), [&](const SurveyedPlace& place) {
    return place.risk.flat.p == least;
  });
  text += best == 1 ? fmt::format(" The safest place is {}: flat in {}.",
                                  ranked.front().place->name, in_words(ranked.front().risk.flat))
                    : fmt::format(" The safest {} run flat in {}.",
                                  places_text(static_cast<std::size_t>(best)),
                                  in_words(ranked.front().risk.flat));
  if (ranked.back().risk.flat.p > least) {
    text += fmt::format(" Last of all is {}: flat in {}.", ranked.back().place->name,
                        in_words(ranked.back().risk.flat));
  }
  if (generator) {
    text += fmt::format(" With the generator along, run as planned, it works {}.",
                        holding_text(report, along));
  }
  return text;
}

std::vector<std::string> where_notes(const WhereReport& report) {
  std::vector<std::string> notes = plan_note_texts(report.plan);
  for (const auto& [why, places] : reasons(report.survey)) {
    notes.push_back(fmt::format("Left out: {} ({}).", places_text(places), why));
  }
  const auto& ranked = report.survey.ranked;
  const Snow snow = report.plan.panels.empty() ? Snow::never : Snow::possible;
  for (auto& note : survey_notes(snow)) notes.push_back(std::move(note));
  notes.push_back(
      "Everything but the place stays as the plan has it: shade, skyline, drives, shore power and "
      "dates. "
      "What it states of its camps' own height and temperatures is not used.");
  const auto southern = [](const Coordinates& where) { return where.latitude_deg < 0.0; };
  const bool across = std::any_of(ranked.begin(), ranked.end(), [&](const auto& p) {
    return southern(p.place->where) != southern(report.plan.camps.front().where);
  });
  if (across) {
    notes.push_back(
        "Across the equator seasons swap, and panels with a fixed direction are turned to face the "
        "noon sun, and "
        "the season is the other one.");
  }
  if (!report.plan.summer_time_stated) {
    notes.push_back(
        "Hours are by each place's own clock on the plan's date of arrival, summer time where it "
        "is kept.");
  } else if (report.plan.summer_time) {
    notes.push_back("summer_time = true is kept everywhere, also where clocks do not change.");
  }
  constexpr std::size_t kMany = 20;
  if (ranked.size() >= kMany) {
    notes.push_back(
        "The first of many places owe part of their rank to chance in their records: trust them "
        "no further than the climate interval.");
  }
  std::map<std::string, std::size_t> terms;
  for (const SurveyedPlace& place : ranked) {
    if (!place.place->licence.empty()) {
      ++terms[fmt::format("{}; license {}", place.place->source, place.place->licence)];
    }
  }
  for (const auto& [text, places] : terms) {
    notes.push_back(fmt::format("{}: {}.", places_text(places), text));
  }
  notes.push_back(
      "`dullspell run` with `--set 'camp[1].place=ID'`, and the same for every other camp, tells "
      "the "
      "days of one place; `dullspell places` lists the ids.");
  return notes;
}

}  // namespace dullspell
