#include "engine/sky.hpp"

#include <algorithm>
#include <vector>

#include "weather/temperature.hpp"

namespace dullspell {

void DrawnSky::fill(std::uint32_t stay, std::span<SegmentSky> out) const {
  thread_local std::vector<DayDeviates> days;
  const DaySequence& sequence = other_ ? other_->sequence : prepared_->sequence;
  days.resize(sequence.days());
  sequence.draw(seed_, stay, days);
  for (std::size_t i = 0; i < out.size(); ++i) {
    const Segment& segment = prepared_->segments[i];
    const SegmentClimate& climate = other_ ? other_->segments[i] : segment;
    const DayDeviates& day = days[static_cast<std::size_t>(segment.day)];
    const double k = climate.k_of_chi(day.chi);
    out[i] = {
        k, climate.temp_mean_c + climate.temp_per_chi * day.chi + climate.temp_per_warm * day.warm,
        daily_range_c(climate.range_mean_c, climate.range_k_slope, k, climate.k_mean)};
  }
}

void RecordedSky::fill(std::uint32_t stay, std::span<SegmentSky> out) const {
  for (std::size_t i = 0; i < out.size(); ++i) {
    const Segment& segment = prepared_->segments[i];
    const PastDay& day = past_->on(begins_[stay] + std::chrono::days{segment.day});
    const double k = std::max(0.0, day.k);
    out[i] = {k, day.temp_mean_c.value_or(segment.temp_mean_c),
              day.temp_range_c.value_or(
                  daily_range_c(segment.range_mean_c, segment.range_k_slope, k, segment.k_mean))};
  }
}

}  // namespace dullspell
