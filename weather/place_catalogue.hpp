#pragma once

#include <iosfwd>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "weather/input/source_text.hpp"
#include "weather/place.hpp"

namespace dullspell {

/// What the list of places says of one of them, without its months.
struct PlaceSummary {
  std::string id;
  std::string source_id;  ///< of the record that it was made from
  std::string name;
  std::string state;
  Coordinates where{};
  std::optional<double> elevation_m;
  double utc_offset_h = 0.0;
  RecordKind record = RecordKind::typical_year;
  std::string source;
};

/// A place and how far it is.
struct NearbyPlace {
  const PlaceSummary* place;
  double distance_km;
};

/// Reads the table of sites: tab-separated, columns id, source_id, name, state, latitude,
/// longitude, elevation_m (may be empty), utc_offset_h, record, source. Throws InputError.
std::vector<PlaceSummary> read_sites(const SourceText& table);

/// Columns of the monthly table after id and month.
void write_monthly_header(std::ostream& out);
void write_monthly_rows(std::ostream& out, const Place& place);

/// Sites and a monthly table (comma-separated, twelve rows a site). Only the sites are read at
/// once; a place's months are read when it is asked for.
class PlaceCatalogue {
 public:
  PlaceCatalogue(const SourceText& sites, SourceText months);

  /// The places that the program carries.
  static const PlaceCatalogue& built_in();

  const std::vector<PlaceSummary>& places() const { return places_; }
  const PlaceSummary* find(std::string_view id) const;

  /// The place with its months; nothing if there is no such id.
  std::optional<Place> place(std::string_view id) const;

  /// Ids that resemble a mistyped one.
  std::optional<std::string> nearest_id(std::string_view id) const;

  /// All places, nearest first.
  std::vector<NearbyPlace> by_distance(const Coordinates& where) const;

 private:
  std::vector<PlaceSummary> places_;
  SourceText months_;
};

}  // namespace dullspell
