#include "reports/places_document.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

namespace dullspell {
std::string short_word(RecordKind kind) {
  switch (kind) {
    case RecordKind::measured:
      return "measured";
    case RecordKind::typical_year:
      return "typical";
    case RecordKind::monthly_means:
      return "means";
    case RecordKind::estimated:
      return "estimated";
    case RecordKind::blended:
      return "blended";
  }
  return {};
}

namespace {

using Align = Column::Align;

std::string counts_text(const std::vector<NearbyPlace>& places) {
  std::string kinds;
  for (const auto kind : kRecordKinds) {
    const auto n = std::count_if(places.begin(), places.end(),
                                 [&](const auto& near) { return near.place->record == kind; });
    if (n > 0) kinds += fmt::format("{}{} {}", kinds.empty() ? "" : ", ", n, short_word(kind));
  }
  return fmt::format("{} place{}: {}.", places.size(), places.size() == 1 ? "" : "s", kinds);
}

std::vector<std::string> terms_texts(const std::vector<NearbyPlace>& places) {
  std::map<std::string, int> with_terms;
  for (const auto& near : places) {
    const PlaceSummary& p = *near.place;
    if (!p.licence.empty()) {
      ++with_terms[fmt::format("{}, {}; license {}", short_word(p.record), p.source, p.licence)];
    }
  }
  std::vector<std::string> out;
  for (const auto& [terms, n] : with_terms) out.push_back(fmt::format("{} of them: {}.", n, terms));
  return out;
}

// Names tell little more than ids do: they make way first.
Table list_table(const std::vector<NearbyPlace>& places, Distances distances, Units units) {
  Table table{"places", "", {{"id", Align::left}}, {}};
  if (distances == Distances::shown) table.columns.push_back({"away", Align::right});
  table.columns.insert(table.columns.end(), {{"record", Align::left, 1},
                                             {"lat, lon", Align::right, 2},
                                             {"UTC", Align::left, 3},
                                             {"place", Align::left, 4}});
  for (const auto& near : places) {
    const PlaceSummary& p = *near.place;
    TableRow row{{p.id}};
    if (distances == Distances::shown) row.cells.push_back(distance(near.distance_km, units));
    row.cells.push_back(short_word(p.record));
    row.cells.push_back(fmt::format("{:.2f},{:.2f}", p.where.latitude_deg, p.where.longitude_deg));
    row.cells.push_back(fmt::format("{:+g}", p.utc_offset_h));
    row.cells.push_back(p.name);
    table.rows.push_back(std::move(row));
  }
  return table;
}

Table towns_table(const std::vector<Town>& towns, Units units) {
  Table table{"towns",
              "Towns",
              {{"as a plan's place", Align::left},
               {"lat, lon", Align::right, 1},
               {"height", Align::right, 2},
               {"people", Align::right, 3}},
              {}};
  for (const Town& town : towns) {
    table.rows.push_back(
        {{TownTable::built_in().name_to_type(town),
          fmt::format("{:.2f},{:.2f}", town.where.latitude_deg, town.where.longitude_deg),
          height(town.elevation_m, units), grouped(static_cast<std::uint64_t>(town.people))}});
  }
  return table;
}

std::string place_line(const Place& place, Units units) {
  std::string text =
      fmt::format("{:.2f}, {:.2f}", place.where.latitude_deg, place.where.longitude_deg);
  if (place.elevation_m) text += ", " + height(*place.elevation_m, units);
  return text + fmt::format(", UTC{:+g}; {} ({}{}{})", place.utc_offset_h, to_string(place.record),
                            place.source, place.licence.empty() ? "" : "; license ", place.licence);
}

Table months_table(const Place& place, Units units) {
  Table table{"months",
              "Weather by month",
              {{"month", Align::left},
               {"clearness"},
               {"spread", Align::right, 1},
               {"kWh/m2 a day", Align::right, 3},
               {"persistence", Align::right, 5},
               {"year share", Align::right, 6},
               {"mean", Align::right, 2},
               {"range", Align::right, 4}},
              {}};
  for (int m = 0; m < 12; ++m) {
    const MonthStatistics& month = place.months[static_cast<std::size_t>(m)];
    const double ghi_kwh_m2 =
        month.k_mean.value * mean_extraterrestrial_wh_m2(m, place.where) / 1000.0;
    table.rows.push_back(
        {{month_name(m), fmt::format("{:.3f}", month.k_mean.value),
          fmt::format("{:.3f}", sd(clearness_distribution(month))),
          fmt::format("{:.2f}", ghi_kwh_m2), fmt::format("{:.2f}", month.k_persistence.value),
          fmt::format("{:.2f}", month.k_year_share.value),
          month.temp_mean_c ? temperature(month.temp_mean_c->value, units) : "–",
          temperature_step(month.temp_range_c.value, units)}});
  }
  return table;
}

}  // namespace

Document places_document(const std::vector<NearbyPlace>& places, const std::vector<Town>& towns,
                         Distances distances, Units units) {
  Document out;
  if (!places.empty()) {
    out.parts.push_back({.blocks = {{list_table(places, distances, units)}}});
    out.footer = counts_text(places);
  }
  if (!towns.empty()) {
    out.parts.push_back({.blocks = {{towns_table(towns, units)}}});
    out.fine_print.push_back("Towns: GeoNames, CC BY 4.0.");
  }
  for (std::string& terms : terms_texts(places)) out.fine_print.push_back(std::move(terms));
  return out;
}

Document place_document(const Place& place, Units units) {
  Document out;
  out.title = place.name + (place.id.empty() ? "" : " (" + place.id + ")");
  out.summary = {place_line(place, units)};
  Part months{.blocks = {{months_table(place, units)}}};
  for (const auto& note : place.notes) months.blocks.push_back({note});
  out.parts = {std::move(months)};
  return out;
}

}  // namespace dullspell
