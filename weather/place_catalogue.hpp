#pragma once

#include <cstddef>
#include <iosfwd>
#include <memory>
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
  std::string country;  ///< ISO 3166-1, two letters; may be empty
  std::string state;    ///< or province or territory, two or three letters; may be empty
  Coordinates where{};
  std::optional<double> elevation_m;
  double utc_offset_h = 0.0;
  RecordKind record = RecordKind::typical_year;
  double record_years = 0.0;     ///< years of days behind the statistics; 0: not known
  bool has_temperatures = true;  ///< whether its months state them
  std::string source;
  std::string licence;  ///< where the table has one of its own; else empty
  std::string note;     ///< what a reader of any report on it must know; may be empty
};

/// A place and how far it is.
struct NearbyPlace {
  const PlaceSummary* place;
  double distance_km;
};

/// Reads the table of sites: tab-separated, columns id, source_id, name, state, latitude,
/// longitude, elevation_m (may be empty), utc_offset_h, record, source; and, where there are such
/// columns, country, record_years, temperatures (yes or no), licence, note. Throws InputError.
std::vector<PlaceSummary> read_sites(const SourceText& table);

/// Columns of the monthly table after id and month.
void write_monthly_header(std::ostream& out);
void write_monthly_rows(std::ostream& out, const Place& place);

/// Sites and their monthly table: comma-separated, twelve rows a site. Details of temperature may
/// be empty there: default_month then stands in, and the place's `defaults` says so.
struct PlaceLayer {
  SourceText sites;
  SourceText months;
};

/// Places of one or several layers. Only the sites are read at once; a place's months are read when
/// it is asked for.
class PlaceCatalogue {
 public:
  PlaceCatalogue(SourceText sites, SourceText months);
  /// Ids must be distinct over all layers.
  explicit PlaceCatalogue(std::vector<PlaceLayer> layers);

  /// The places that the program carries: the US, Canada, the world, and estimated cities.
  static const PlaceCatalogue& built_in();

  /// The same with places that are there already; ids must be distinct.
  PlaceCatalogue with(std::vector<Place> own) const;

  const std::vector<PlaceSummary>& places() const { return places_; }
  const PlaceSummary* find(std::string_view id) const;

  /// The place with its months; nothing if there is no such id.
  std::optional<Place> place(std::string_view id) const;

  /// Ids that resemble a mistyped one.
  std::optional<std::string> nearest_id(std::string_view id) const;

  /// All places, nearest first.
  std::vector<NearbyPlace> by_distance(const Coordinates& where) const;

 private:
  struct MonthlyTable;
  const MonthlyTable& months_of(const PlaceSummary& place) const;

  std::vector<PlaceSummary> places_;
  std::vector<std::shared_ptr<const MonthlyTable>> months_;  // of each layer
  std::vector<std::size_t> layer_begin_;                     // first of its places
  std::vector<Place> own_;                                   // the last of the places
};

}  // namespace dullspell
