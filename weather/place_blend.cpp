#include "weather/place_blend.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "weather/blend/blender.hpp"
#include "weather/time_zone.hpp"

namespace dullspell {
namespace {

Place place_of(const Blender& blender, const BlendTarget& target) {
  const BlendedMonths months = blender.months(target);
  Place place;
  place.where = target.where;
  place.elevation_m = target.elevation_m;
  place.utc_offset_h = TimeZoneTable::built_in().at(target.where).utc_offset_h;
  place.record = RecordKind::blended;
  place.source = blender.what_it_rests_on(target);
  place.licence = blender.licence(target);
  for (int m = 0; m < 12; ++m) {
    MonthStatistics& month = place.months[static_cast<std::size_t>(m)];
    month.k_sd = 0.0;
    month.temp_mean_c = 0.0;
    const PerStatistic<Estimate*> numbers = month.estimates();
    for (std::size_t i = 0; i < kStatistics; ++i) {
      *numbers[i] = {months.values[i][m], std::sqrt(std::max(0.0, months.variances[i][m]))};
    }
  }
  return place;
}

}  // namespace

PlaceBlend::PlaceBlend(const PlaceCatalogue& sites, const WorldGrid& grid)
    : blender_(std::make_unique<const Blender>(sites, grid)) {}

PlaceBlend::~PlaceBlend() = default;

const PlaceBlend& PlaceBlend::built_in() {
  static const PlaceBlend blend(PlaceCatalogue::built_in(), WorldGrid::built_in());
  return blend;
}

Place PlaceBlend::at(const Coordinates& where, std::optional<double> elevation_m,
                     double leave_out_km) const {
  return place_of(*blender_, blender_->target(where, elevation_m, leave_out_km));
}

Place PlaceBlend::named(std::string name, const Coordinates& where,
                        std::optional<double> elevation_m) const {
  Place place = at(where, elevation_m);
  place.name = std::move(name);
  return place;
}

Place PlaceBlend::of_site(std::string_view id) const {
  const auto site = blender_->find(id);
  if (!site) throw std::invalid_argument("no site of that id");
  return place_of(*blender_, blender_->target(*site));
}

Place PlaceBlend::with_temperatures(Place place) const {
  if (place.has_temperatures()) return place;
  const Place blend = at(place.where, place.elevation_m);
  for (std::size_t m = 0; m < 12; ++m) {
    const MonthStatistics& from = blend.months[m];
    MonthStatistics& to = place.months[m];
    to.temp_mean_c = from.temp_mean_c;
    to.temp_range_c = from.temp_range_c;
    to.temp_sd_c = from.temp_sd_c;
    to.temp_persistence = from.temp_persistence;
    to.temp_k_correlation = from.temp_k_correlation;
    to.range_k_slope = from.range_k_slope;
  }
  std::erase_if(place.defaults, [](const std::string& what) {
    return what.find("temperature") != std::string::npos;
  });
  place.notes.push_back("temperatures come from " + blend.source);
  return place;
}

Place PlaceBlend::as_used(Place place) const {
  const std::optional<std::size_t> site = blender_->find(place.id);
  if (!site || blender_->sites().kind(*site) == SiteKind::measured)
    return with_temperatures(std::move(place));
  // What was said of its months is no longer true of these.
  place.months = place_of(*blender_, blender_->target(*site)).months;
  place.defaults.clear();
  place.notes.clear();
  if (blender_->sites().contradicts_neighbors(*site)) {
    place.notes.push_back(
        "some of its months contradict all stations around and the world grid; the climate "
        "interval "
        "reaches to both");
  }
  return place;
}

}  // namespace dullspell
