#pragma once

#include <optional>
#include <span>
#include <vector>

#include "weather/day_sequence.hpp"
#include "weather/known_sky.hpp"
#include "weather/standard_errors.hpp"

namespace dullspell {

/// Climate of one segment of a stay, in the form that drawing takes.
struct SegmentClimate {
  ClearnessTable k_of_chi;
  double temp_mean_c = 15.0;         ///< expected for the date
  double temp_per_chi = 0.0;         ///< K of anomaly per unit of chi
  double temp_per_innovation = 0.0;  ///< K of anomaly per unit of W
  double range_mean_c = 11.0;
  double range_k_slope = 12.5;
  double k_mean = 0.5;
};

/// Everything that weather is drawn from.
struct StayClimate {
  std::vector<SegmentClimate> segments;
  DaySequence sequence{{}};
};

/// What a place states for a date, and how well it is known at the camp.
struct StatedClimate {
  DateClimate climate;
  double warmer_k = 0.0;  ///< the camp against its place
  std::size_t place = 0;  ///< number of the place among those of the plan
  int day = 0;            ///< index of the date in the stay; -1 is the day before
};

/// A day whose sky is known, and the climate in which that is understood.
struct KnownClimate {
  StatedClearness sky{};
  StatedClimate stated;
};

/// What the plan's places state for the dates of a stay: the climate that it is drawn from, or
/// others that the places' records would allow.
class ClimateOfStay {
 public:
  ClimateOfStay() = default;

  /// `segments` are in order of time, at least one a date; `before` belongs to the day before the
  /// first and is only used if days are known.
  ClimateOfStay(std::vector<StatedClimate> segments, const StatedClimate& before,
                std::vector<KnownClimate> known, std::size_t places);

  std::size_t places() const { return places_; }

  /// As stated.
  StayClimate stated() const;

  /// With every place off by so many standard errors, one entry a place.
  StayClimate off_by(std::span<const ClimateDeviates> deviates) const;

 private:
  template <class Shift>
  StayClimate made(Shift shift) const;

  std::vector<StatedClimate> segments_;
  StatedClimate before_;
  std::vector<KnownClimate> known_;
  std::size_t places_ = 0;
};

}  // namespace dullspell
