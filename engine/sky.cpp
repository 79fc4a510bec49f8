#include "engine/sky.hpp"

#include <algorithm>
#include <vector>

#include "weather/temperature.hpp"

namespace dullspell {

void DrawnSky::fill(std::uint32_t stay, std::span<SegmentSky> out) const {
  thread_local std::vector<DayDeviates> days;
  days.resize(prepared_->sequence.days());
  prepared_->sequence.draw(seed_, stay, days);
  for (std::size_t i = 0; i < out.size(); ++i) {
    const Segment& segment = prepared_->segments[i];
    const DayDeviates& day = days[static_cast<std::size_t>(segment.day)];
    const double k = segment.k_of_chi(day.chi);
    out[i] = {
        k, segment.temp_mean_c + segment.temp_per_chi * day.chi + segment.temp_per_warm * day.warm,
        daily_range_c(segment.range_mean_c, segment.range_k_slope, k, segment.k_mean)};
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
