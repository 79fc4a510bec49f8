#include "reports/where_data.hpp"

#include <algorithm>
#include <ostream>

#include <fmt/format.h>

#include "reports/csv_writer.hpp"
#include "reports/data_parts.hpp"
#include "reports/json_renderer.hpp"
#include "reports/risk_summary_parts.hpp"
#include "reports/where_verdict.hpp"

namespace dullspell {
namespace {

Data filter_data(const PlaceFilter& filter) {
  Data out = {{"near", nullptr},
              {"within_km", nullptr},
              {"box", nullptr},
              {"elevation_m", nullptr},
              {"kind", filter.kind ? Data(to_string(*filter.kind)) : Data()}};
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

Data place_members(const WhereReport& report, std::size_t rank) {
  const SurveyedPlace& surveyed = report.survey.ranked[rank];
  const PlaceSummary& place = *surveyed.place;
  Data out = {{"rank", rank + 1},
              {"id", place.id},
              {"name", place.name},
              {"country", place.country},
              {"elevation_m", or_null(place.elevation_m)},
              {"record", to_string(place.record)},
              {"source", place.source},
              {"licence", or_null(place.licence)},
              {"comes_in", surveyed.comes_in}};
  out.update(risk_summary_data(surveyed.risk, report.plan.accept_risk));
  return out;
}

}  // namespace

Data where_head(const WhereReport& report, std::string_view program) {
  Data out = survey_head("dullspell.where/1", program, report.options, report.plan);
  out["filter"] = filter_data(report.filter);
  return out;
}

Data where_results(const WhereReport& report) {
  Data places = Data::list(), left_out = Data::list();
  for (std::size_t i = 0; i < report.survey.ranked.size(); ++i) {
    Data entry = place_members(report, i);
    entry["latitude"] = report.survey.ranked[i].place->where.latitude_deg;
    entry["longitude"] = report.survey.ranked[i].place->where.longitude_deg;
    places.push_back(std::move(entry));
  }
  for (const LeftOutPlace& place : report.survey.left_out) {
    left_out.push_back({{"id", place.place->id}, {"why", place.why}});
  }
  return {{"as_planned", risk_summary_data(report.as_planned, report.plan.accept_risk)},
          {"places", std::move(places)},
          {"left_out", std::move(left_out)}};
}

Data where_chart_data(const WhereReport& report, const Data& results, std::size_t on_map,
                      std::size_t in_full) {
  Data latitudes = Data::list(), longitudes = Data::list(), places = Data::list();
  for (std::size_t i = 0; i < on_map; ++i) {
    const Coordinates& where = report.survey.ranked[i].place->where;
    latitudes.push_back(where.latitude_deg);
    longitudes.push_back(where.longitude_deg);
  }
  for (std::size_t i = 0; i < in_full; ++i) places.push_back(results.at("places").at(i));
  return {{"places", std::move(places)},
          {"map",
           {{"latitude", std::move(latitudes)},
            {"longitude", std::move(longitudes)},
            {"yes", places_standing(report, RiskStanding::within)},
            {"close", places_standing(report, RiskStanding::too_close)}}}};
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
  Data map = {{"type", "FeatureCollection"}, {"features", Data::list()}};
  for (std::size_t i = 0; i < report.survey.ranked.size(); ++i) {
    const SurveyedPlace& surveyed = report.survey.ranked[i];
    Data properties = place_members(report, i);
    // Maps colour points by plain numbers.
    properties.update(share(surveyed.risk.flat));
    const Coordinates& where = surveyed.place->where;
    map["features"].push_back(
        {{"type", "Feature"},
         {"id", surveyed.place->id},
         {"geometry",
          {{"type", "Point"}, {"coordinates", {where.longitude_deg, where.latitude_deg}}}},
         {"properties", std::move(properties)}});
  }
  write_json(out, map);
}

}  // namespace dullspell
