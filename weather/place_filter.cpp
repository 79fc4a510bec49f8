#include "weather/place_filter.hpp"

namespace dullspell {

bool GeoBox::holds(const Coordinates& where) const {
  if (where.latitude_deg < south_deg || where.latitude_deg > north_deg) return false;
  const bool east_of_west = where.longitude_deg >= west_deg;
  const bool west_of_east = where.longitude_deg <= east_deg;
  return west_deg <= east_deg ? east_of_west && west_of_east : east_of_west || west_of_east;
}

SelectedPlaces select_places(const PlaceCatalogue& catalogue, const PlaceFilter& filter) {
  SelectedPlaces out;
  for (const PlaceSummary& place : catalogue.places()) {
    if (filter.kind && place.record != *filter.kind) continue;
    if (filter.country && place.country != *filter.country) continue;
    if (filter.box && !filter.box->holds(place.where)) continue;
    if (filter.circle &&
        distance_km(filter.circle->centre, place.where) > filter.circle->radius_km) {
      continue;
    }
    if (filter.elevation && !place.elevation_m) {
      out.unknown_elevation.push_back(&place);
      continue;
    }
    if (filter.elevation && (*place.elevation_m < filter.elevation->low_m ||
                             *place.elevation_m > filter.elevation->high_m)) {
      continue;
    }
    out.places.push_back(&place);
  }
  return out;
}

}  // namespace dullspell
