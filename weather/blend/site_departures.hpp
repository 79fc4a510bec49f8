#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "weather/blend/blend_model.hpp"
#include "weather/place_catalogue.hpp"

namespace dullspell {

/// By how much the months of built-in sites depart from what the regression says of them, as
/// harmonics of the year. A site's are worked out when they are first asked for; several threads
/// may ask.
class SiteDepartures {
 public:
  /// Both must outlive it.
  SiteDepartures(const PlaceCatalogue& sites, const WorldGrid& grid);
  ~SiteDepartures();
  SiteDepartures(const SiteDepartures&) = delete;
  SiteDepartures& operator=(const SiteDepartures&) = delete;

  std::size_t count() const { return kinds_.size(); }
  const PlaceSummary& site(std::size_t i) const { return sites_.places()[i]; }
  SiteKind kind(std::size_t i) const { return kinds_[i]; }

  /// Error variance of a site's harmonic.
  double variance(std::size_t site, std::size_t statistic, int cycles) const;

  /// Nothing where the site does not state the statistic, or states what was made from another.
  const std::optional<Harmonics>& of(std::size_t site, std::size_t statistic) const;

  /// The site's own mean clearness.
  const MonthVector& k_mean(std::size_t site) const;

  /// Left out of other places' clearness: months depart by more than 3.5 of their standard errors
  /// from what neighbors and grid say, where at least 3 other sites lie within 300 km.
  bool contradicts_neighbors(std::size_t site) const { return contradicts_[site]; }

 private:
  struct Cache;
  bool may_state(std::size_t site, std::size_t statistic) const;
  void work_out(std::size_t site) const;

  const PlaceCatalogue& sites_;
  const WorldGrid& grid_;
  std::vector<SiteKind> kinds_;
  std::vector<bool> contradicts_;
  std::unique_ptr<Cache> cache_;
};

}  // namespace dullspell
