#pragma once

#include <optional>
#include <string>
#include <vector>

#include "weather/place_catalogue.hpp"

namespace dullspell {

/// Degrees, edges included; with `west_deg` > `east_deg` it reaches over the date line.
struct GeoBox {
  double south_deg, west_deg, north_deg, east_deg;

  bool holds(const Coordinates& where) const;
};

struct Circle {
  Coordinates centre;
  double radius_km;
};

struct ElevationBand {
  double low_m, high_m;
};

/// Which places are asked about; what is not stated holds for all.
struct PlaceFilter {
  std::optional<Circle> circle;
  std::optional<GeoBox> box;
  std::optional<ElevationBand> elevation;
  std::optional<RecordKind> kind;
  std::optional<std::string> country;  ///< ISO 3166-1, two letters
};

struct SelectedPlaces {
  std::vector<const PlaceSummary*> places;  ///< as in the catalogue
  /// Those that only their unknown elevation keeps out.
  std::vector<const PlaceSummary*> unknown_elevation;
};

SelectedPlaces select_places(const PlaceCatalogue& catalogue, const PlaceFilter& filter);

}  // namespace dullspell
