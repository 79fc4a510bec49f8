#include "engine/study/tally.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <numeric>

#include "engine/kernel/block_runner.hpp"
#include "engine/kernel/stay_counts.hpp"

namespace dullspell {
namespace {

template <class T>
void add_each(std::vector<T>& to, const std::vector<T>& from) {
  std::transform(to.begin(), to.end(), from.begin(), to.begin(), std::plus<>());
}

std::uint64_t sum_of(const std::vector<std::uint32_t>& counts) {
  return std::accumulate(counts.begin(), counts.end(), std::uint64_t{0});
}

constexpr short kNoBin = std::numeric_limits<short>::max();

// Rows of bins, one a histogram, [histogram][stay]; a row without bins begins with kNoBin. Many
// stays have the same bin, full above all, and a processor waits from one count to the next of it:
// four rows by turns keep it busy.
void add_rows(const short* rows, int stays, std::vector<ChargeHistogram>& to) {
  constexpr std::size_t kTogether = 4;
  for (std::size_t row = 0; row < to.size(); row += kTogether) {
    const std::size_t end = std::min(row + kTogether, to.size());
    for (int i = 0; i < stays; ++i) {
      for (std::size_t r = row; r < end; ++r) {
        const short bin = rows[r * kBlockStays + static_cast<std::size_t>(i)];
        if (bin != kNoBin) to[r].add_bin(static_cast<std::size_t>(bin));
      }
    }
  }
}

constexpr double kHoursBin = 1.0 / 16.0;
constexpr double kLitresBin = 1.0 / 32.0;

// Of so much as a stay can ask for, in bins of a four-thousandth of it or of 1 Wh.
Histogram missing_histogram(const PreparedPlan& plan) {
  constexpr std::size_t kBins = 4096;
  const double width_wh = std::max(1.0, most_asked_wh(plan) / static_cast<double>(kBins));
  return {width_wh, kBins + 1};
}

}  // namespace

void Histogram::operator()(double value) {
  const double position = value / width_;
  const auto last = counts_.size() - 1;
  ++counts_[position >= static_cast<double>(last) ? last : static_cast<std::size_t>(position)];
}

Histogram& Histogram::operator+=(const Histogram& other) {
  add_each(counts_, other.counts_);
  return *this;
}

std::uint64_t Histogram::count() const {
  return sum_of(counts_);
}

double Histogram::quantile(double p, bool zero_is_exact) const {
  const double wanted = p * static_cast<double>(count());
  double below = 0.0;
  for (std::size_t i = 0; i < counts_.size(); ++i) {
    const double here = counts_[i];
    if (here > 0.0 && below + here >= wanted) {
      if (i == 0 && zero_is_exact) return 0.0;
      return width_ * (static_cast<double>(i) + (wanted - below) / here);
    }
    below += here;
  }
  return 0.0;
}

std::size_t ChargeHistogram::bin(double charge) {
  constexpr double kFull = 1e-9;  // so near to it is full
  return static_cast<std::size_t>((charge + kFull) * 256.0);
}

ChargeHistogram& ChargeHistogram::operator+=(const ChargeHistogram& other) {
  add_each(counts_, other.counts_);
  return *this;
}

std::uint64_t ChargeHistogram::count() const {
  return sum_of(counts_);
}

double ChargeHistogram::quantile(double p) const {
  const double wanted = p * static_cast<double>(count());
  double below = 0.0;
  for (std::size_t i = 0; i + 1 < kBins; ++i) {
    const double here = counts_[i];
    if (here > 0.0 && below + here >= wanted) {
      return (static_cast<double>(i) + (wanted - below) / here) / 256.0;
    }
    below += here;
  }
  return 1.0;
}

void FixedSum::operator+=(double value) {
  units_ += std::llround(value * 1024.0);
}

Histogram generator_hours_histogram(const PreparedPlan& plan) {
  const double hours = static_cast<double>(plan.hours.size());
  return {kHoursBin, static_cast<std::size_t>(hours / kHoursBin) + 2};
}

TrackTally::TrackTally(const PreparedPlan& plan)
    : flat_on_day(plan.dates.size(), 0),
      fails_on_day(plan.dates.size(), 0),
      fails_at_hour(plan.hours.size(), 0),
      flat_hour_of_day(24, 0),
      flat_h(1.0, plan.hours.size() + 2),
      flat_nights(1.0, plan.dates.size() + 2),
      missing_wh(missing_histogram(plan)),
      charge(plan.hours.size()),
      morning_low(plan.dates.size()) {
  const double hours = static_cast<double>(plan.hours.size());
  generator_h = generator_hours_histogram(plan);
  const double most_l_per_h =
      plan.generator ? plan.generator->fuel_l_per_h_idle +
                           plan.generator->fuel_l_per_kwh * plan.generator->rated_w / 1000.0
                     : 0.0;
  fuel_l = Histogram(kLitresBin, static_cast<std::size_t>(hours * most_l_per_h / kLitresBin) + 2);
  starts = Histogram(1.0, plan.hours.size() + 1);
}

void TrackTally::add(const PreparedPlan& plan, const TrackTrace& trace) {
  const std::size_t hours = trace.flat.size();
  int flat_hours_here = 0, nights = 0, counted_night = -1;
  DayIndex counted_day = -1;
  for (std::size_t h = 0; h < hours; ++h) {
    charge[h](trace.charge[h]);
    if (!trace.flat[h]) continue;
    const HourSlot& slot = plan.hours[h];
    ++flat_hour_of_day[static_cast<std::size_t>(slot.hour_of_day)];
    if (slot.day != counted_day) {
      counted_day = slot.day;
      ++flat_on_day[slot.day];
    }
    if (slot.night() != counted_night) {
      counted_night = slot.night();
      ++nights;
    }
    if (++flat_hours_here == plan.accept_flat_h + 1) {
      ++flat_stays;
      ++fails_at_hour[h];
      ++fails_on_day[slot.day];
    }
  }
  flat_hours += static_cast<std::uint64_t>(flat_hours_here);
  flat_h(flat_hours_here);
  flat_nights(nights);
  flat_nights_sum += static_cast<std::uint64_t>(nights);
  missing_wh(trace.shortfall_wh);
  // Least charge at hour ends from 00:00 to 12:00: one pass, hours are in order of days.
  for (std::size_t h = 0; h < hours;) {
    const HourSlot& slot = plan.hours[h];
    if (slot.hour_of_day >= 12) {
      ++h;
      continue;
    }
    double low = trace.charge[h];
    const DayIndex day = slot.day;
    for (; h < hours && plan.hours[h].day == day && plan.hours[h].hour_of_day < 12; ++h) {
      low = std::min(low, trace.charge[h]);
    }
    morning_low[day](low);
  }
  demand_wh += trace.demand_wh;
  shortfall_wh += trace.shortfall_wh;
  given_up_wh += trace.given_up_wh;
  spilled_wh += trace.spilled_wh;
  generator_h(trace.generator_h);
  fuel_l(trace.fuel_l);
  starts(trace.generator_starts);
  generator_h_sum += trace.generator_h;
  fuel_l_sum += trace.fuel_l;
  starts_sum += static_cast<double>(trace.generator_starts);
}

void TrackTally::add_flat_hours(const PreparedPlan& plan, const KernelTrack& track, int stays) {
  const std::uint64_t wanted = first_stays(stays);
  std::uint64_t on_day = 0, in_night = 0;
  StaysBeyond failed(plan.accept_flat_h);
  StayCounts hours_of_stay, nights_of_stay;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    const HourSlot& slot = plan.hours[h];
    if (h > 0 && plan.hours[h - 1].day != slot.day) on_day = 0;
    if (h > 0 && plan.hours[h - 1].night() != slot.night()) in_night = 0;
    const std::uint64_t flat = track.flat[h] & wanted;
    if (flat == 0) continue;
    const auto count = static_cast<std::uint32_t>(std::popcount(flat));
    flat_hours += count;
    flat_hour_of_day[static_cast<std::size_t>(slot.hour_of_day)] += count;
    flat_on_day[slot.day] += static_cast<std::uint32_t>(std::popcount(flat & ~on_day));
    on_day |= flat;
    hours_of_stay.add(flat);
    nights_of_stay.add(flat & ~in_night);
    in_night |= flat;
    const auto failing = static_cast<std::uint32_t>(std::popcount(failed.add(flat)));
    fails_at_hour[h] += failing;
    fails_on_day[slot.day] += failing;
  }
  flat_stays += static_cast<std::uint64_t>(std::popcount(failed.beyond()));
  for (int i = 0; i < stays; ++i) {
    flat_h(hours_of_stay.of(i));
    flat_nights(nights_of_stay.of(i));
    flat_nights_sum += nights_of_stay.of(i);
  }
}

void TrackTally::add(const PreparedPlan& plan, const KernelTrack& track, int stays) {
  add_flat_hours(plan, track, stays);
  add_rows(track.charge_bin, stays, charge);
  add_morning_lows(plan, track, stays);
  for (int i = 0; i < stays; ++i) {
    demand_wh += track.demand_wh[i];
    shortfall_wh += track.shortfall_wh[i];
    missing_wh(track.shortfall_wh[i]);
    given_up_wh += track.given_up_wh[i];
    spilled_wh += track.spilled_wh[i];
    generator_h(track.generator_h[i]);
    fuel_l(track.fuel_l[i]);
    starts(track.starts[i]);
    generator_h_sum += track.generator_h[i];
    fuel_l_sum += track.fuel_l[i];
    starts_sum += track.starts[i];
  }
}

// The bin of the least charge is the least bin.
void TrackTally::add_morning_lows(const PreparedPlan& plan, const KernelTrack& track, int stays) {
  const std::size_t hours = plan.hours.size();
  lows_.assign(morning_low.size() * kBlockStays, kNoBin);
  for (std::size_t h = 0; h < hours; ++h) {
    if (plan.hours[h].hour_of_day >= 12) continue;
    const short* row = track.charge_bin + h * kBlockStays;
    short* low = lows_.data() + static_cast<std::size_t>(plan.hours[h].day.value) * kBlockStays;
    for (int i = 0; i < kBlockStays; ++i) low[i] = std::min(low[i], row[i]);
  }
  add_rows(lows_.data(), stays, morning_low);
}

TrackTally& TrackTally::operator+=(const TrackTally& other) {
  flat_stays += other.flat_stays;
  flat_hours += other.flat_hours;
  add_each(flat_on_day, other.flat_on_day);
  add_each(fails_on_day, other.fails_on_day);
  add_each(fails_at_hour, other.fails_at_hour);
  add_each(flat_hour_of_day, other.flat_hour_of_day);
  flat_h += other.flat_h;
  flat_nights += other.flat_nights;
  flat_nights_sum += other.flat_nights_sum;
  missing_wh += other.missing_wh;
  for (std::size_t i = 0; i < charge.size(); ++i) charge[i] += other.charge[i];
  for (std::size_t i = 0; i < morning_low.size(); ++i) morning_low[i] += other.morning_low[i];
  demand_wh += other.demand_wh;
  shortfall_wh += other.shortfall_wh;
  given_up_wh += other.given_up_wh;
  spilled_wh += other.spilled_wh;
  generator_h += other.generator_h;
  fuel_l += other.fuel_l;
  starts += other.starts;
  generator_h_sum += other.generator_h_sum;
  fuel_l_sum += other.fuel_l_sum;
  starts_sum += other.starts_sum;
  return *this;
}

Tally::Tally(const PreparedPlan& plan)
    : home(plan), along(plan), least_generator_h(generator_hours_histogram(plan)) {}

void Tally::add(const PreparedPlan& plan, const StayTrace& trace) {
  ++stays;
  home.add(plan, trace.home);
  panels_wh += trace.panels_wh;
  if (!plan.generator) return;
  along.add(plan, trace.along);
  add_least_generator_h(trace.least_generator_h);
}

void Tally::add(const PreparedPlan& plan, const KernelResult& block, int count) {
  stays += static_cast<std::uint64_t>(count);
  home.add(plan, block.home, count);
  for (int i = 0; i < count; ++i) panels_wh += block.panels_wh[i];
  if (plan.generator) along.add(plan, block.along, count);
}

void Tally::add_least_generator_h(std::optional<double> hours) {
  if (hours) {
    least_generator_h(*hours);
  } else {
    ++least_not_enough;
  }
}

Tally& Tally::operator+=(const Tally& other) {
  stays += other.stays;
  home += other.home;
  along += other.along;
  least_generator_h += other.least_generator_h;
  least_not_enough += other.least_not_enough;
  panels_wh += other.panels_wh;
  return *this;
}

}  // namespace dullspell
