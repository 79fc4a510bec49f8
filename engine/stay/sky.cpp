#include "engine/stay/sky.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>
#include <vector>

#include "weather/random_stream.hpp"
#include "weather/temperature.hpp"

namespace dullspell {

static_assert(kKernelChiCells == ClearnessTable::kCells && ClearnessTable::kLowest == -6.0);

DrawnSky::DrawnSky(const PreparedPlan& prepared, const StayClimate* other, std::uint64_t seed)
    : prepared_(&prepared), other_(other), seed_(seed) {
  for (std::size_t i = 0; i < prepared.segments.size(); ++i) {
    const SegmentClimate& c = climate(i);
    climates_.push_back({c.k_of_chi.values().data(), c.temp_mean_c, c.temp_per_chi,
                         c.temp_per_innovation, c.range_mean_c, c.range_k_slope, c.k_mean});
  }
  int segment = 0;
  const int segments = static_cast<int>(prepared.segments.size());
  for (const DayLink& link : sequence().links()) {
    const int day = static_cast<int>(days_.size());
    const int first = segment;
    while (segment < segments && prepared.segments[SegmentIndex(segment)].day == day) {
      ++segment;
    }
    days_.push_back({link.sky_kept, link.sky_new, link.of_year, link.of_day, link.innovation_kept,
                     link.innovation_new, first, segment});
  }
  draws_ = {seed,
            static_cast<int>(days_.size()),
            days_.data(),
            climates_.data(),
            static_cast<unsigned>(DrawPurpose::year),
            static_cast<unsigned>(DrawPurpose::weather)};
}

const KernelDraws* DrawnSky::block_draws() const {
  return sequence().has_known_days() ? nullptr : &draws_;
}

void DrawnSky::fill(std::uint32_t stay, std::span<SegmentSky> out) const {
  thread_local std::vector<DayDeviates> days;
  days.resize(sequence().days());
  sequence().draw(seed_, stay, days);
  for (std::size_t i = 0; i < out.size(); ++i) {
    const SegmentClimate& c = climate(i);
    const DayDeviates& day = days[static_cast<std::size_t>(prepared_->segments[i].day.value)];
    const double k = c.k_of_chi(day.chi);
    out[i] = {
        k, c.temp_mean_c + c.temp_per_chi * day.chi + c.temp_per_innovation * day.temp_innovation,
        daily_range_c(c.range_mean_c, c.range_k_slope, k, c.k_mean)};
  }
}

RecordedSky::RecordedSky(const PreparedPlan& prepared, const PastWeather& past,
                         std::vector<Date> begins, Indexed<CampIndex, double> warmer_k)
    : prepared_(&prepared),
      past_(&past),
      begins_(std::move(begins)),
      warmer_k_(std::move(warmer_k)) {
  if (begins_.empty()) throw std::invalid_argument("a recorded sky needs a period");
}

void RecordedSky::fill(std::uint32_t stay, std::span<SegmentSky> out) const {
  const Date begin = begins_[std::min<std::size_t>(stay, begins_.size() - 1)];
  for (std::size_t i = 0; i < out.size(); ++i) {
    const Segment& segment = prepared_->segments[i];
    const PastDay& day = past_->on(begin + std::chrono::days{segment.day.value});
    const double k = std::max(0.0, day.k);
    const double warmer_k = warmer_k_.empty() ? 0.0 : warmer_k_[segment.camp];
    out[i] = {k, day.temp_mean_c ? *day.temp_mean_c + warmer_k : segment.temp_mean_c,
              day.temp_range_c.value_or(
                  daily_range_c(segment.range_mean_c, segment.range_k_slope, k, segment.k_mean))};
  }
}

}  // namespace dullspell
