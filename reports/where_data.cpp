#include "reports/where_data.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <ostream>
#include <vector>

#include <fmt/format.h>

#include "reports/csv_writer.hpp"
#include "reports/data_parts.hpp"
#include "reports/json_renderer.hpp"
#include "reports/risk_summary_parts.hpp"
#include "reports/where_verdict.hpp"
#include "weather/coast.hpp"

namespace dullspell {
namespace {

Data filter_data(const PlaceFilter& filter) {
  Data out = {{"near", nullptr},
              {"within_km", nullptr},
              {"box", nullptr},
              {"elevation_m", nullptr},
              {"kind", filter.kind ? Data(to_string(*filter.kind)) : Data()},
              {"country", or_null(filter.country)}};
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

// Which points lie around the places, by their latitudes and by whole degrees of longitude.
class Surroundings {
 public:
  explicit Surroundings(const std::vector<SurveyedPlace>& places) {
    for (const SurveyedPlace& place : places) {
      south_deg_ = std::min(south_deg_, place.place->where.latitude_deg - kMargin_deg);
      north_deg_ = std::max(north_deg_, place.place->where.latitude_deg + kMargin_deg);
      for (int east = -kMargin_deg; east <= kMargin_deg; ++east) {
        holds_[column_of(place.place->where.longitude_deg + east)] = true;
      }
    }
  }

  bool hold(const Coordinates& point) const {
    return point.latitude_deg >= south_deg_ && point.latitude_deg <= north_deg_ &&
           holds_[column_of(point.longitude_deg)];
  }

 private:
  static constexpr int kMargin_deg = 5, kTurn_deg = 360;

  static std::size_t column_of(double longitude_deg) {
    const int column = static_cast<int>(std::floor(longitude_deg)) + kTurn_deg;
    return static_cast<std::size_t>(column % kTurn_deg);
  }

  double south_deg_ = 90.0, north_deg_ = -90.0;
  std::array<bool, kTurn_deg> holds_{};
};

// Outlines of land around the places, for a map: pieces of rings, [longitude, latitude, ...].
Data coast_data(const WhereReport& report) {
  const Surroundings around(report.survey.ranked);
  std::vector<std::vector<double>> pieces;
  for (const auto& ring : Coast::built_in().rings()) {
    std::vector<double> piece;
    const auto end_piece = [&] {
      if (piece.size() > 2) pieces.push_back(std::move(piece));
      piece.clear();
    };
    for (const Coordinates& point : ring) {
      // The cut along the date line is no coast.
      if (!around.hold(point) || std::abs(point.longitude_deg) == 180.0) {
        end_piece();
        continue;
      }
      piece.push_back(point.longitude_deg);
      piece.push_back(point.latitude_deg);
    }
    end_piece();
  }
  return pieces;
}

// What a place is on a map: a point, or the cell about it.
Data geometry(const WhereReport& report, const Coordinates& where) {
  if (report.grid_deg <= 0.0) {
    return {{"type", "Point"}, {"coordinates", {where.longitude_deg, where.latitude_deg}}};
  }
  const double half = 0.5 * report.grid_deg;
  Data ring = Data::list();
  for (const auto& [east, north] :
       {std::pair{-half, -half}, {half, -half}, {half, half}, {-half, half}, {-half, -half}}) {
    Data point = Data::list();
    point.push_back(where.longitude_deg + east);
    point.push_back(where.latitude_deg + north);
    ring.push_back(std::move(point));
  }
  Data rings = Data::list();
  rings.push_back(std::move(ring));
  return {{"type", "Polygon"}, {"coordinates", std::move(rings)}};
}

void add_place_cells(CsvWriter& csv, const WhereReport& report, const SurveyedPlace& surveyed) {
  const PlaceSummary& place = *surveyed.place;
  csv.cells(place.id, place.name, place.country, place.where.latitude_deg,
            place.where.longitude_deg);
  place.elevation_m ? csv.cells(*place.elevation_m) : csv.empty(1);
  csv.cells(to_string(place.record), surveyed.comes_in);
  add_risk_summary_cells(csv, surveyed.risk, report.plan.accept_risk);
  csv.cells(place.licence).end_row();
}

constexpr const char* kColumns = "id,name,country,latitude,longitude,elevation_m,record,comes_in";

}  // namespace

Data where_head(const WhereReport& report, std::string_view program) {
  Data out = survey_head("dullspell.where/1", program, report.options, report.plan);
  out["filter"] = filter_data(report.filter);
  out["grid_deg"] = report.grid_deg > 0.0 ? Data(report.grid_deg) : Data();
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
  std::vector<double> latitudes, longitudes;
  for (std::size_t i = 0; i < on_map; ++i) {
    const Coordinates& where = report.survey.ranked[i].place->where;
    latitudes.push_back(where.latitude_deg);
    longitudes.push_back(where.longitude_deg);
  }
  Data places = Data::list();
  for (std::size_t i = 0; i < in_full; ++i) places.push_back(results.at("places").at(i));
  Data coast = report.grid_deg > 0.0 ? coast_data(report) : Data::list();
  return {{"places", std::move(places)},
          {"map",
           {{"latitude", latitudes},
            {"longitude", longitudes},
            {"yes", places_standing(report, RiskStanding::within)},
            {"close", places_standing(report, RiskStanding::too_close)},
            {"cell", report.grid_deg},
            {"coast", std::move(coast)}}}};
}

void write_where_csv(std::ostream& out, const WhereReport& report) {
  CsvWriter csv(out, "rank," + (kColumns + risk_summary_columns()) + ",licence");
  for (std::size_t i = 0; i < report.survey.ranked.size(); ++i) {
    csv.cells(i + 1);
    add_place_cells(csv, report, report.survey.ranked[i]);
  }
}

void write_where_part(std::ostream& out, const WhereReport& report, bool with_head) {
  CsvWriter csv(out, kColumns + risk_summary_columns() + ",licence", with_head);
  std::vector<SurveyedPlace> places = report.survey.ranked;
  std::sort(places.begin(), places.end(),
            [](const auto& a, const auto& b) { return a.given < b.given; });
  for (const SurveyedPlace& place : places) add_place_cells(csv, report, place);
}

void write_where_geojson(std::ostream& out, const WhereReport& report) {
  Data map = {{"type", "FeatureCollection"}, {"features", Data::list()}};
  for (std::size_t i = 0; i < report.survey.ranked.size(); ++i) {
    const SurveyedPlace& surveyed = report.survey.ranked[i];
    Data properties = place_members(report, i);
    // Maps colour points by plain numbers.
    properties.update(share(surveyed.risk.flat));
    const Coordinates& where = surveyed.place->where;
    map["features"].push_back({{"type", "Feature"},
                               {"id", surveyed.place->id},
                               {"geometry", geometry(report, where)},
                               {"properties", std::move(properties)}});
  }
  write_json(out, map);
}

}  // namespace dullspell
