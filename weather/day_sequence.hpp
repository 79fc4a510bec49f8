#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "weather/known_days.hpp"
#include "weather/place_climate.hpp"

namespace dullspell {

/// Standard normal weather of one day.
struct DayDeviates {
  double chi;              ///< sky: clearness is the place's K of chi
  double temp_innovation;  ///< W, the part of the temperature anomaly independent of the sky
};

/// Weights that carry the weather from one day into the next, on the common grid.
struct DayLink {
  double sky_kept, sky_new;                ///< phi and sqrt(1 - phi^2) of Z
  double of_year, of_day;                  ///< sqrt(s) and sqrt(1 - s)
  double innovation_kept, innovation_new;  ///< the same for W
};

DayLink day_link(const DateClimate& climate);

/// Draws the days of one stay: chi_d = sqrt(s) Y + sqrt(1 - s) Z_d, Z_d = phi Z_(d-1) +
/// sqrt(1 - phi^2) eps_d, and W_d likewise without a common part. Y is one draw per stay; day 0 is
/// stationary. (Graham, Hollands & Unny 1988, Solar Energy 40:83, with the year's share added.)
/// Where days are known, the chain is conditioned on them: see KnownDays.
class DaySequence {
 public:
  explicit DaySequence(std::vector<DayLink> links, KnownDays known = {})
      : links_(std::move(links)), known_(std::move(known)) {}

  std::size_t days() const { return links_.size(); }
  const std::vector<DayLink>& links() const { return links_; }
  bool has_known_days() const { return known_.days() > 0; }

  /// Fills `out` (one entry a day) for a stay; a pure function of seed and stay.
  void draw(std::uint64_t seed, std::uint32_t stay, std::span<DayDeviates> out) const;

 private:
  std::vector<DayLink> links_;
  KnownDays known_;
};

}  // namespace dullspell
