#include "reports/where_report.hpp"

#include <algorithm>
#include <map>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "reports/cautions.hpp"
#include "reports/csv_writer.hpp"
#include "reports/note_text.hpp"
#include "reports/number_text.hpp"
#include "reports/places_report.hpp"
#include "reports/risk_summary_parts.hpp"
#include "reports/text_report.hpp"

namespace dullspell {
namespace {

using Align = Column::Align;

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

// The plan's notes but those on its own places, which say nothing of others.
std::vector<std::string> notes_on_kit(const Plan& plan) {
  std::vector<std::string> notes;
  for (const PlanNote& note : plan.notes) {
    if (!is_about_a_place(note)) notes.push_back(note_text(note, plan));
  }
  return notes;
}

Json filter_json(const PlaceFilter& filter) {
  Json out = {{"near", nullptr},
              {"within_km", nullptr},
              {"box", nullptr},
              {"elevation_m", nullptr},
              {"kind", filter.kind ? Json(to_string(*filter.kind)) : Json(nullptr)}};
  if (const auto& circle = filter.circle) {
    out["near"] = {circle->centre.latitude_deg, circle->centre.longitude_deg};
    out["within_km"] = circle->radius_km;
  }
  if (const auto& box = filter.box) {
    out["box"] = {box->south_deg, box->west_deg, box->north_deg, box->east_deg};
  }
  if (const auto& band = filter.elevation) out["elevation_m"] = {band->low_m, band->high_m};
  return out;
}

Json place_members(const WhereReport& report, std::size_t rank) {
  const SurveyedPlace& surveyed = report.survey.ranked[rank];
  const PlaceSummary& place = *surveyed.place;
  Json out = {{"rank", rank + 1},
              {"id", place.id},
              {"name", place.name},
              {"country", place.country},
              {"elevation_m", or_null(place.elevation_m)},
              {"record", to_string(place.record)},
              {"source", place.source},
              {"licence", place.licence.empty() ? Json(nullptr) : Json(place.licence)},
              {"comes_in", surveyed.comes_in}};
  out.update(risk_summary_json(surveyed.risk, report.plan.accept_risk));
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
                  generator ? "Without its generator this stay holds" : "This stay holds",
                  holding_text(report, at_home), accepted_text(report.plan.accept_risk));
  text += fmt::format(" At the plan's own {} it runs flat in {} ({}).",
                      report.plan.camps.size() == 1 ? "camp" : "camps",
                      in_words(report.as_planned.flat), percent_interval(report.as_planned.flat));
  const std::uint64_t least = ranked.front().risk.flat.count;
  const auto best = std::count_if(ranked.begin(), ranked.end(), [&](const SurveyedPlace& place) {
    return place.risk.flat.count == least;
  });
  text += best == 1 ? fmt::format(" The surest place is {}: flat in {}.",
                                  ranked.front().place->name, in_words(ranked.front().risk.flat))
                    : fmt::format(" The surest {} run flat in {}.",
                                  places_text(static_cast<std::size_t>(best)),
                                  in_words(ranked.front().risk.flat));
  if (ranked.back().risk.flat.count > least) {
    text += fmt::format(" Last of all is {}: flat in {}.", ranked.back().place->name,
                        in_words(ranked.back().risk.flat));
  }
  if (generator) {
    text += fmt::format(" With the generator along, run by its rule, it holds {}.",
                        holding_text(report, along));
  }
  return text;
}

Table best_places_table(const WhereReport& report, std::size_t most) {
  const bool generator = report.plan.generator.has_value();
  const auto& circle = report.filter.circle;
  const std::size_t shown = std::min({report.top, most, report.survey.ranked.size()});
  Table table{"places",
              fmt::format("{}{}, the surest first",
                          shown < report.survey.ranked.size()
                              ? fmt::format("The best {}", places_text(shown))
                              : std::string("All places"),
                          generator ? ", generator left at home" : ""),
              {{"place", Align::left}},
              {},
              "Among equals the place comes first where most comes in for what is used. sampling: "
              "95 % interval for this number of stays; climate: the same with what the place's "
              "record cannot tell.",
              4,
              "Bars: flat, and in light how far the climate interval reaches."};
  table.columns.insert(table.columns.end(), {{"holds", Align::right, 1},
                                             {"flat"},
                                             {"sampling", Align::left},
                                             {"climate", Align::left, 2}});
  if (generator) {
    table.columns.push_back({"with gen", Align::right, 3});
    table.columns.push_back({"hours", Align::right, 6});
  }
  if (circle) table.columns.push_back({"away", Align::right, 4});
  table.columns.push_back({"record", Align::left, 5});
  double widest = 0.0;
  for (std::size_t i = 0; i < shown; ++i) {
    const auto& [place, risk, comes_in] = report.survey.ranked[i];
    TableRow row{{place->name, holds_word(standing(risk.flat, report.plan.accept_risk)),
                  percent(risk.flat), percent_interval(risk.flat), climate_cell(risk.flat_climate)},
                 ShareBar{risk.flat.p, risk.flat_climate.value_or(risk.flat.interval).high},
                 tone_of(risk.flat, report.plan.accept_risk)};
    if (generator) {
      widest = std::max(widest, along(risk).interval.half_width());
      row.cells.push_back(percent(along(risk)));
      row.cells.push_back(fmt::format("{:.1f}", risk.generator->hours_mean));
    }
    if (circle) {
      row.cells.push_back(distance(distance_km(circle->centre, place->where), report.units));
    }
    row.cells.push_back(short_word(place->record));
    table.rows.push_back(std::move(row));
  }
  if (generator) {
    table.legend += fmt::format(
        " with gen: stays that run flat even with the generator along ({}); hours, in a window "
        "with "
        "room for them: how long it runs by its rule, on average.",
        widest_along_text(widest));
  }
  return table;
}

std::vector<std::string> where_notes(const WhereReport& report) {
  std::vector<std::string> notes = notes_on_kit(report.plan);
  for (const auto& [why, places] : reasons(report.survey)) {
    notes.push_back(fmt::format("Left out: {} ({}).", places_text(places), why));
  }
  const auto& ranked = report.survey.ranked;
  for (auto& note : survey_notes(!report.plan.panels.empty())) notes.push_back(std::move(note));
  notes.push_back(
      "Everything but the place stays as the plan has it: shade, skyline, drives, mains and dates. "
      "What it states of its camps' own height and temperatures is not used.");
  const auto southern = [](const Coordinates& where) { return where.latitude_deg < 0.0; };
  const bool across = std::any_of(ranked.begin(), ranked.end(), [&](const auto& p) {
    return southern(p.place->where) != southern(report.plan.camps.front().where);
  });
  if (across) {
    notes.push_back(
        "Beyond the equator panels with a fixed direction are turned round, north for south, and "
        "the season is the other one.");
  }
  if (report.plan.summer_time) {
    notes.push_back("summer_time = true is kept everywhere, also where clocks do not change.");
  }
  constexpr std::size_t kMany = 20;
  if (ranked.size() >= kMany) {
    notes.push_back(
        "The first of many places owe part of their rank to chance in their records: trust them "
        "no further than the climate interval.");
  }
  const bool without_temperatures = std::any_of(
      ranked.begin(), ranked.end(), [](const auto& p) { return !p.place->has_temperatures; });
  if (without_temperatures) {
    notes.push_back(fmt::format(
        "Places without temperatures are run at {} all year, which only the panels feel.",
        report.units == Units::us ? "59 °F" : "15 C"));
  }
  std::map<std::string, std::size_t> terms;
  for (const SurveyedPlace& place : ranked) {
    if (!place.place->licence.empty()) {
      ++terms[fmt::format("{}; licence {}", place.place->source, place.place->licence)];
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

void write_where_text(std::ostream& out, const WhereReport& report, TextStyle style) {
  TextWriter writer(out, style);
  write_plan_summary(writer, report.plan, prepare(report.plan), report.units);
  writer.verdict(where_verdict(report), where_tone(report));
  if (!report.survey.ranked.empty()) writer.table(best_places_table(report));
  writer.list("What the figures rest on", where_notes(report));
  writer.list("Cautions", report_cautions(report.plan));
  writer.footer(survey_footer(report.options));
}

Json where_json(const WhereReport& report, std::string_view program) {
  Json json = survey_head_json("dullspell.where/1", program, report.options, report.plan);
  json["filter"] = filter_json(report.filter);
  json["verdict"] = where_verdict(report);
  json["as_planned"] = risk_summary_json(report.as_planned, report.plan.accept_risk);
  json["places"] = Json::array();
  for (std::size_t i = 0; i < report.survey.ranked.size(); ++i) {
    Json entry = place_members(report, i);
    entry["latitude"] = report.survey.ranked[i].place->where.latitude_deg;
    entry["longitude"] = report.survey.ranked[i].place->where.longitude_deg;
    json["places"].push_back(std::move(entry));
  }
  json["left_out"] = Json::array();
  for (const LeftOutPlace& place : report.survey.left_out) {
    json["left_out"].push_back({{"id", place.place->id}, {"why", place.why}});
  }
  json["notes"] = where_notes(report);
  json["cautions"] = report_cautions(report.plan);
  return json;
}

void write_where_json(std::ostream& out, const WhereReport& report, std::string_view program) {
  write_json(out, where_json(report, program));
}

void write_where_csv(std::ostream& out, const WhereReport& report) {
  CsvWriter csv(out, "rank,id,name,country,latitude,longitude,elevation_m,record,comes_in" +
                         risk_summary_columns() + ",licence");
  for (std::size_t i = 0; i < report.survey.ranked.size(); ++i) {
    const SurveyedPlace& surveyed = report.survey.ranked[i];
    const PlaceSummary& place = *surveyed.place;
    csv.cells(i + 1, place.id, place.name, place.country, place.where.latitude_deg,
              place.where.longitude_deg);
    place.elevation_m ? csv.cells(*place.elevation_m) : csv.empty(1);
    csv.cells(to_string(place.record), surveyed.comes_in);
    add_risk_summary_cells(csv, surveyed.risk, report.plan.accept_risk);
    csv.cells(place.licence).end_row();
  }
}

void write_where_geojson(std::ostream& out, const WhereReport& report) {
  Json json = {{"type", "FeatureCollection"}, {"features", Json::array()}};
  for (std::size_t i = 0; i < report.survey.ranked.size(); ++i) {
    const SurveyedPlace& surveyed = report.survey.ranked[i];
    Json properties = place_members(report, i);
    // Maps colour points by plain numbers.
    properties.update(share(surveyed.risk.flat));
    const Coordinates& where = surveyed.place->where;
    json["features"].push_back(
        {{"type", "Feature"},
         {"id", surveyed.place->id},
         {"geometry",
          {{"type", "Point"}, {"coordinates", {where.longitude_deg, where.latitude_deg}}}},
         {"properties", std::move(properties)}});
  }
  write_json(out, json);
}

}  // namespace dullspell
