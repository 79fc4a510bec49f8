#include "engine/stay/stay_climate.hpp"

#include <cmath>

#include "weather/grid_rounding.hpp"

namespace dullspell {
namespace {

SegmentClimate segment_climate(const DateClimate& climate, double warmer_k) {
  const double rho = climate.temp_k_correlation.value;
  const double temp_sd_c = climate.temp_sd_c.value;
  return {climate.k_of_chi.rounded(),
          on_grid(climate.temp_mean_c.value + warmer_k),
          on_grid(temp_sd_c * rho),
          on_grid(temp_sd_c * std::sqrt(1.0 - rho * rho)),
          on_grid(climate.temp_range_c.value),
          on_grid(climate.range_k_slope.value),
          on_grid(climate.k_mean.value)};
}

}  // namespace

ClimateOfStay::ClimateOfStay(std::vector<StatedClimate> segments, const StatedClimate& before,
                             std::vector<KnownClimate> known, std::size_t places)
    : segments_(std::move(segments)), before_(before), known_(std::move(known)), places_(places) {}

template <class Shift>
StayClimate ClimateOfStay::made(Shift shift) const {
  StayClimate out;
  std::vector<DayLink> links;
  for (const StatedClimate& stated : segments_) {
    const DateClimate climate = shift(stated);
    out.segments.push_back(segment_climate(climate, stated.warmer_k));
    // The camp where one wakes up sets how a date follows from the one before; a date without hours
    // still takes part in the count of days.
    const auto day = static_cast<std::size_t>(stated.day);
    if (links.size() <= day) links.resize(day + 1, day_link(climate));
  }
  KnownDays known_days;
  if (!known_.empty()) {
    std::vector<KnownChi> known;
    for (const KnownClimate& day : known_) {
      known.push_back(known_chi(day.stated.day, day.sky, shift(day.stated).k_of_chi.rounded()));
    }
    known_days = KnownDays(day_link(shift(before_)), links, known);
  }
  out.sequence = DaySequence(std::move(links), std::move(known_days));
  return out;
}

StayClimate ClimateOfStay::stated() const {
  return made([](const StatedClimate& stated) { return stated.climate; });
}

StayClimate ClimateOfStay::off_by(std::span<const ClimateDeviates> deviates) const {
  return made([&](const StatedClimate& stated) {
    return dullspell::off_by(stated.climate, deviates[stated.place]);
  });
}

}  // namespace dullspell
