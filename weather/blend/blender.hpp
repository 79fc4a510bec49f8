#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "weather/blend/site_departures.hpp"

namespace dullspell {

/// The place that is asked about, and the sites by their distance.
struct BlendTarget {
  Coordinates where;
  std::optional<double> elevation_m;
  std::optional<std::size_t> own;        ///< site that is asked for itself
  std::vector<double> distance_km;       ///< of all sites
  std::vector<std::size_t> by_distance;  ///< those that may be used, nearest first
};

/// What is estimated of a place's months, and the variance of its errors.
struct BlendedMonths {
  PerStatistic<MonthVector> values, variances;

  /// Within what months may be, and as uncertain as that makes them.
  void close(std::size_t statistic, double more_error);
};

/// The estimates behind PlaceBlend.
class Blender {
 public:
  Blender(const PlaceCatalogue& sites, const WorldGrid& grid) : sites_(sites, grid), grid_(grid) {}

  const SiteDepartures& sites() const { return sites_; }
  std::optional<std::size_t> find(std::string_view id) const;

  /// Of a spot; sites within `leave_out_km` are not used.
  BlendTarget target(const Coordinates& where, std::optional<double> elevation_m,
                     double leave_out_km) const;
  /// Of a site.
  BlendTarget target(std::size_t own) const;

  BlendedMonths months(const BlendTarget& target) const;

  /// "a world grid and 9 stations within 500 km".
  std::string what_it_rests_on(const BlendTarget& target) const;

  /// Terms of one of the sites used, if one has terms of its own.
  std::string licence(const BlendTarget& target) const;

 private:
  struct Departure {
    Harmonics mean = Harmonics::Zero(), variance = Harmonics::Zero();
  };
  struct Height {
    double above_grid_m, error_m;
  };

  Departure departure(const BlendTarget& target, std::size_t statistic) const;
  Height usual_height(const BlendTarget& target) const;
  void estimate(const BlendTarget& target, const Circumstances& at, std::size_t statistic,
                BlendedMonths& out) const;
  void estimate_clearness(const BlendTarget& target, const Circumstances& at,
                          BlendedMonths& out) const;
  void estimate_spread(const BlendTarget& target, Circumstances at, BlendedMonths& out) const;
  void estimate_temperature(const BlendTarget& target, Circumstances at,
                            std::optional<Height> unknown, BlendedMonths& out) const;

  SiteDepartures sites_;
  const WorldGrid& grid_;
};

}  // namespace dullspell
