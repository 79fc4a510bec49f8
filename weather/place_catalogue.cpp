#include "weather/place_catalogue.hpp"

#include <algorithm>
#include <mutex>
#include <ostream>
#include <unordered_map>
#include <utility>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "weather/input/csv_table.hpp"
#include "weather/input/input_error.hpp"
#include "weather/input/nearest_word.hpp"
#include "weather/input/text_pieces.hpp"

namespace dullspell {
namespace {

struct MonthColumn {
  const char* name;
  Estimate MonthStatistics::*field;
  int decimals;
};

// Means and spread are optional members, so they are handled by hand around these.
constexpr std::array kSkyColumns{MonthColumn{"k_persistence", &MonthStatistics::k_persistence, 4},
                                 MonthColumn{"k_year_share", &MonthStatistics::k_year_share, 4}};
// The range comes first: it may be known where the others are not.
constexpr std::array kTemperatureColumns{
    MonthColumn{"temp_range_c", &MonthStatistics::temp_range_c, 2},
    MonthColumn{"temp_sd_c", &MonthStatistics::temp_sd_c, 2},
    MonthColumn{"temp_persistence", &MonthStatistics::temp_persistence, 4},
    MonthColumn{"temp_k_correlation", &MonthStatistics::temp_k_correlation, 4},
    MonthColumn{"range_k_slope", &MonthStatistics::range_k_slope, 2}};

std::vector<std::string> month_columns() {
  std::vector<std::string> names{"id", "month", "k_mean", "k_sd", "temp_mean_c"};
  for (const auto& column : kSkyColumns) names.emplace_back(column.name);
  for (const auto& column : kTemperatureColumns) names.emplace_back(column.name);
  return names;
}

RecordKind record_of(const CsvTable& table, std::size_t column) {
  if (const auto kind = record_kind(table.text(column))) return *kind;
  table.fail(column, fmt::format("is `{}`", table.text(column)),
             "measured, typical-year, monthly-means or estimated", "");
}

bool temperatures_of(const CsvTable& table, std::size_t column) {
  const std::string_view cell = table.text(column);
  if (cell.empty() || cell == "yes") return true;
  if (cell == "no") return false;
  table.fail(column, fmt::format("is `{}`", cell), "yes or no", "");
}

// Rows of one place, lines above them, and the head of their table.
struct RowsOfPlace {
  std::string_view rows;
  int lines_before = 0;
  std::string_view header;
};

std::string years_in_words(double years) {
  return years < 1.5 ? "one year" : fmt::format("{:.0f} years", years);
}

Place place_without_months(const PlaceSummary& summary) {
  Place place;
  place.id = summary.id;
  place.name = summary.name;
  place.where = summary.where;
  place.elevation_m = summary.elevation_m;
  place.utc_offset_h = summary.utc_offset_h;
  place.source = summary.source;
  place.licence = summary.licence;
  place.record = summary.record;
  place.record_years = summary.record_years;
  if (summary.record == RecordKind::measured && summary.record_years > 0.0) {
    place.years = years_in_words(summary.record_years);
  }
  if (!summary.note.empty()) place.notes.push_back(summary.note);
  for (int m = 0; m < 12; ++m) {
    place.months[static_cast<std::size_t>(m)] = default_month(m, summary.where.latitude_deg);
  }
  return place;
}

PlaceSummary summary_of(const Place& place) {
  PlaceSummary out;
  out.id = place.id;
  out.name = place.name;
  out.where = place.where;
  out.elevation_m = place.elevation_m;
  out.utc_offset_h = place.utc_offset_h;
  out.record = place.record;
  out.record_years = place.record_years;
  out.has_temperatures = place.has_temperatures();
  out.source = place.source;
  out.licence = place.licence;
  return out;
}

int month_of_row(const CsvTable& table) {
  const double number = table.required_number(1);
  const int month = static_cast<int>(std::clamp(number, 0.0, 13.0));
  if (month < 1 || month > 12 || month != number) {
    table.fail(1, fmt::format("is {}", number), "a whole number from 1 to 12", "");
  }
  return month;
}

// Which details of temperature a table leaves to their defaults, as a place's `defaults` says it.
void name_defaults(Place& place, bool range_is_default, bool rest_is_default) {
  if (range_is_default) place.defaults.emplace_back("daily temperature range (11 K)");
  if (rest_is_default) {
    place.defaults.emplace_back("how temperature varies from day to day and with the sky");
  }
}

void read_months(Place& place, const std::string& table_name, const RowsOfPlace& own) {
  // One look-up need not read the whole table, and line numbers in messages stay true.
  const SourceText rows{table_name, std::string(own.rows)};
  std::array<bool, 12> seen{};
  bool range_is_default = false, rest_is_default = false;
  if (!own.rows.empty()) {
    CsvTable table(rows, CsvDelimiter::comma, month_columns(), {},
                   {0, std::string(own.header), own.lines_before});
    while (table.next()) {
      const int month = month_of_row(table);
      if (std::exchange(seen[static_cast<std::size_t>(month - 1)], true)) {
        table.fail(1, fmt::format("is {} a second time", month), "each month once", "");
      }
      MonthStatistics& out = place.months[static_cast<std::size_t>(month - 1)];
      out.k_mean = table.required_number(2);
      out.k_sd = table.number(3);
      out.temp_mean_c = table.number(4);
      std::size_t cell = 5;
      for (const auto& column : kSkyColumns) out.*column.field = table.required_number(cell++);
      for (const auto& column : kTemperatureColumns) {
        const auto value = table.number(cell++);
        if (value) out.*column.field = *value;
        (&column == &kTemperatureColumns.front() ? range_is_default : rest_is_default) |= !value;
      }
    }
  }
  name_defaults(place, range_is_default, rest_is_default);
  const auto months = std::count(seen.begin(), seen.end(), true);
  if (months != 12) {
    InputProblem p;
    p.file = table_name;
    p.problem = fmt::format("has {} months of `{}`", months, place.id);
    p.allowed = "twelve";
    p.fix = "Make the table anew with `dullspell fit`.";
    throw InputError(std::move(p));
  }
}

}  // namespace

std::vector<PlaceSummary> read_sites(const SourceText& source) {
  CsvTable table(source, CsvDelimiter::tab,
                 {"id", "source_id", "name", "state", "latitude", "longitude", "elevation_m",
                  "utc_offset_h", "record", "source"},
                 {"country", "record_years", "temperatures", "licence", "note"});
  std::vector<PlaceSummary> sites;
  while (table.next()) {
    PlaceSummary site;
    site.id = table.text(0);
    site.source_id = table.text(1);
    site.name = table.text(2);
    site.state = table.text(3);
    site.where = {table.required_number(4), table.required_number(5)};
    site.elevation_m = table.number(6);
    site.utc_offset_h = table.required_number(7);
    site.record = record_of(table, 8);
    site.source = table.text(9);
    site.country = table.text(10);
    site.record_years = table.number(11).value_or(0.0);
    site.has_temperatures = temperatures_of(table, 12);
    site.licence = table.text(13);
    site.note = table.text(14);
    sites.push_back(std::move(site));
  }
  return sites;
}

void write_monthly_header(std::ostream& out) {
  std::string header;
  for (const auto& name : month_columns()) header += (header.empty() ? "" : ",") + name;
  fmt::print(out, "{}\n", header);
}

void write_monthly_rows(std::ostream& out, const Place& place) {
  for (std::size_t m = 0; m < 12; ++m) {
    const MonthStatistics& month = place.months[m];
    const auto optional = [](const std::optional<Estimate>& number, int decimals) {
      return number ? fmt::format("{:.{}f}", number->value, decimals) : std::string{};
    };
    fmt::print(out, "{},{},{:.4f},{},{}", place.id, m + 1, month.k_mean.value,
               optional(month.k_sd, 4), optional(month.temp_mean_c, 2));
    const auto write = [&](const MonthColumn& column) {
      fmt::print(out, ",{:.{}f}", (month.*column.field).value, column.decimals);
    };
    std::for_each(kSkyColumns.begin(), kSkyColumns.end(), write);
    std::for_each(kTemperatureColumns.begin(), kTemperatureColumns.end(), write);
    fmt::print(out, "\n");
  }
}

// The monthly table of a layer, in which places are found by their ids.
struct PlaceCatalogue::MonthlyTable {
  explicit MonthlyTable(SourceText text) : source(std::move(text)) {}

  RowsOfPlace rows(std::string_view id) const {
    std::call_once(indexed, [this] { index(); });
    const auto found = of_id.find(id);
    return found == of_id.end() ? RowsOfPlace{} : found->second;
  }

  const SourceText source;

 private:
  // Rows of a place stand together.
  void index() const {
    std::string_view text = source.text, header;
    for (int line = 0; !text.empty(); ++line) {
      const std::string_view row = cut_piece(text, '\n');
      if (row.starts_with('#')) continue;
      if (header.empty()) {
        header = row;
        continue;
      }
      const auto [place, is_new] =
          of_id.try_emplace(row.substr(0, row.find(',')), RowsOfPlace{row, line, header});
      std::string_view& rows = place->second.rows;
      const bool follows = rows.data() + rows.size() + 1 == row.data();
      if (!is_new && follows) rows = {rows.data(), rows.size() + 1 + row.size()};
    }
  }

  mutable std::once_flag indexed;
  mutable std::unordered_map<std::string_view, RowsOfPlace> of_id;
};

PlaceCatalogue::PlaceCatalogue(SourceText sites, SourceText months)
    : PlaceCatalogue(std::vector{PlaceLayer{std::move(sites), std::move(months)}}) {}

PlaceCatalogue::PlaceCatalogue(std::vector<PlaceLayer> layers) {
  for (PlaceLayer& layer : layers) {
    layer_begin_.push_back(places_.size());
    for (PlaceSummary& site : read_sites(layer.sites)) places_.push_back(std::move(site));
    months_.push_back(std::make_shared<const MonthlyTable>(std::move(layer.months)));
  }
}

const PlaceCatalogue::MonthlyTable& PlaceCatalogue::months_of(const PlaceSummary& place) const {
  const auto index = static_cast<std::size_t>(&place - places_.data());
  const auto next = std::upper_bound(layer_begin_.begin(), layer_begin_.end(), index);
  return *months_[static_cast<std::size_t>(next - layer_begin_.begin()) - 1];
}

const PlaceSummary* PlaceCatalogue::find(std::string_view id) const {
  const auto it = std::find_if(places_.begin(), places_.end(),
                               [&](const PlaceSummary& p) { return p.id == id; });
  return it == places_.end() ? nullptr : &*it;
}

PlaceCatalogue PlaceCatalogue::with(std::vector<Place> own) const {
  PlaceCatalogue out = *this;
  for (Place& place : own) {
    out.places_.push_back(summary_of(place));
    out.own_.push_back(std::move(place));
  }
  return out;
}

std::optional<Place> PlaceCatalogue::place(std::string_view id) const {
  const PlaceSummary* summary = find(id);
  if (!summary) return std::nullopt;
  const auto index = static_cast<std::size_t>(summary - places_.data());
  const std::size_t from_tables = places_.size() - own_.size();
  if (index >= from_tables) return own_[index - from_tables];
  Place place = place_without_months(*summary);
  const MonthlyTable& table = months_of(*summary);
  read_months(place, table.source.name, table.rows(id));
  return place;
}

std::optional<std::string> PlaceCatalogue::nearest_id(std::string_view id) const {
  std::vector<std::string> ids;
  for (const auto& p : places_) ids.push_back(p.id);
  if (auto near = nearest_word(id, ids)) return near;
  const auto lower = [](unsigned char c) { return c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c; };
  for (const auto& known : ids) {
    if (id.empty() || known.size() < id.size()) continue;
    if (std::equal(id.begin(), id.end(), known.begin(),
                   [&](char a, char b) { return lower(static_cast<unsigned char>(a)) == b; })) {
      return known;
    }
  }
  return std::nullopt;
}

std::vector<NearbyPlace> PlaceCatalogue::by_distance(const Coordinates& where) const {
  std::vector<NearbyPlace> near;
  for (const auto& p : places_) near.push_back({&p, distance_km(where, p.where)});
  std::stable_sort(near.begin(), near.end(),
                   [](const auto& a, const auto& b) { return a.distance_km < b.distance_km; });
  return near;
}

}  // namespace dullspell
