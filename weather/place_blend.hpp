#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "weather/blend/world_grid.hpp"
#include "weather/place.hpp"
#include "weather/place_catalogue.hpp"

namespace dullspell {

class Blender;

/// The months of any place on Earth, from a world grid and the built-in sites around it.
///
/// Of each statistic the year's course is its mean and its waves of one and two cycles. At a place
/// they are what a regression on the grid, season, latitude and height says, and a departure from
/// it: the best linear estimate from those of the 40 nearest sites that state the statistic (simple
/// kriging: Cressie 1993, Statistics for Spatial Data, section 3.2), each with the error of its
/// kind of record. Standard errors are those of the estimate, without what instruments and
/// decades add to clearness (standard_errors.hpp). Models: blend/blend_model.hpp.
class PlaceBlend {
 public:
  /// Both must outlive it.
  PlaceBlend(const PlaceCatalogue& sites, const WorldGrid& grid);
  ~PlaceBlend();
  PlaceBlend(const PlaceBlend&) = delete;
  PlaceBlend& operator=(const PlaceBlend&) = delete;

  /// Of the places and the grid that the program carries.
  static const PlaceBlend& built_in();

  /// A place of its own, every number with its standard error; without a name. Where the elevation
  /// is not stated it is estimated too, and its error counts in that of temperatures. Sites within
  /// `leave_out_km` are not used.
  Place at(const Coordinates& where, std::optional<double> elevation_m,
           double leave_out_km = -1.0) const;

  /// The same under a name.
  Place named(std::string name, const Coordinates& where, std::optional<double> elevation_m) const;

  /// The same for a built-in site, with its own months among the sites'. Throws
  /// std::invalid_argument for an unknown id.
  Place of_site(std::string_view id) const;

  /// The place with what it does not state of temperatures filled in from a blend.
  Place with_temperatures(Place place) const;

  /// A built-in site as plans use it: its own months where they were measured for several years;
  /// else of_site(), since what one year or an estimate says is nearer to the truth once it leans
  /// on the grid and the sites around. Other places: with_temperatures().
  Place as_used(Place place) const;

 private:
  std::unique_ptr<const Blender> blender_;
};

}  // namespace dullspell
