#include "reports/places_report.hpp"

#include <algorithm>
#include <map>
#include <ostream>
#include <string>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "reports/number_text.hpp"

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
  }
  return {};
}

namespace {

void write_counts(std::ostream& out, const std::vector<NearbyPlace>& places) {
  std::string kinds;
  for (const auto kind : kRecordKinds) {
    const auto n = std::count_if(places.begin(), places.end(),
                                 [&](const auto& near) { return near.place->record == kind; });
    if (n > 0) kinds += fmt::format("{}{} {}", kinds.empty() ? "" : ", ", n, short_word(kind));
  }
  fmt::print(out, "{} place{}: {}.\n", places.size(), places.size() == 1 ? "" : "s", kinds);
}

void write_terms(std::ostream& out, const std::vector<NearbyPlace>& places) {
  std::map<std::string, int> with_terms;
  for (const auto& near : places) {
    const PlaceSummary& p = *near.place;
    if (!p.licence.empty()) {
      ++with_terms[fmt::format("{}, {}; licence {}", short_word(p.record), p.source, p.licence)];
    }
  }
  for (const auto& [terms, n] : with_terms) fmt::print(out, "{} of them: {}.\n", n, terms);
}

}  // namespace

void write_places(std::ostream& out, const std::vector<NearbyPlace>& places, bool with_distance) {
  for (const auto& near : places) {
    const PlaceSummary& p = *near.place;
    fmt::print(out, "{}{} {:>7.2f} {:>8.2f}  UTC{:<+5g} {:<10} {}\n",
               with_distance ? right_aligned(fmt::format("{:.0f} km  ", near.distance_km), 11) : "",
               left_aligned(p.id, 34), p.where.latitude_deg, p.where.longitude_deg, p.utc_offset_h,
               short_word(p.record), p.name);
  }
  fmt::print(out, "\n");
  write_counts(out, places);
  write_terms(out, places);
  const bool handicapped = std::any_of(
      places.begin(), places.end(), [](const auto& near) { return !near.place->has_temperatures; });
  if (with_distance && handicapped) {
    fmt::print(out, "Places without temperatures are listed as if {:.0f} km farther.\n",
               kWithoutTemperatures_km);
  }
}

void write_place_months(std::ostream& out, const Place& place) {
  fmt::print(out, "{}{}\n{:.2f}, {:.2f}", place.name, place.id.empty() ? "" : " (" + place.id + ")",
             place.where.latitude_deg, place.where.longitude_deg);
  if (place.elevation_m) fmt::print(out, ", {:.0f} m", *place.elevation_m);
  fmt::print(out, ", UTC{:+g}; {} ({}{}{})\n\n", place.utc_offset_h, to_string(place.record),
             place.source, place.licence.empty() ? "" : "; licence ", place.licence);
  fmt::print(
      out, "  month  clearness  spread  kWh/m2 a day  persistence  year share   mean C  range K\n");
  for (int m = 0; m < 12; ++m) {
    const auto i = static_cast<std::size_t>(m);
    const MonthStatistics& month = place.months[i];
    const double ghi_kwh_m2 = month.k_mean * mean_extraterrestrial_wh_m2(m, place.where) / 1000.0;
    fmt::print(out, "  {:<5}{:>11.3f}{:>8.3f}{:>14.2f}{:>13.2f}{:>12.2f}{:>9}{:>9.1f}\n",
               month_name(m), month.k_mean, sd(clearness_distribution(month)), ghi_kwh_m2,
               month.k_persistence, month.k_year_share,
               month.temp_mean_c ? fmt::format("{:.1f}", *month.temp_mean_c) : "–",
               month.temp_range_c);
  }
  for (const auto& note : place.notes) fmt::print(out, "  {}\n", note);
}

}  // namespace dullspell
