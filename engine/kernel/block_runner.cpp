#include "engine/kernel/block_runner.hpp"

#include <bit>

#include "engine/kernel/stay_counts.hpp"
#include "weather/random_stream.hpp"

namespace dullspell {

namespace {

std::uint64_t hours_of(const std::vector<unsigned long long>& flat, std::uint64_t stays) {
  std::uint64_t hours = 0;
  for (const unsigned long long hour : flat) {
    hours += static_cast<std::uint64_t>(std::popcount(hour & stays));
  }
  return hours;
}

const double* data_of(const std::vector<StayRow>& rows) {
  return rows.empty() ? nullptr : rows.front().stay;
}
double* data_of(std::vector<StayRow>& rows) {
  return rows.empty() ? nullptr : rows.front().stay;
}

std::size_t power_rows(const HourTables& tables) {
  return static_cast<std::size_t>(tables.controllers) * kPowerColumns;
}

}  // namespace

BlockWeather::BlockWeather(const PreparedPlan& plan)
    : k(plan.segments.size()),
      temp_mean_c(plan.segments.size()),
      temp_range_c(plan.segments.size()),
      use(plan.segments.size() * plan.flexible.size()) {}

KernelWeather BlockWeather::rows() const {
  return {data_of(k), data_of(temp_mean_c), data_of(temp_range_c), data_of(use)};
}

BlockRunner::BlockRunner(const PreparedPlan& plan, const StayTables& tables, std::uint64_t seed,
                         const Kernel& kernel, BlockDetail detail)
    : plan_(plan),
      tables_(tables),
      seed_(seed),
      kernel_(kernel),
      sky_of_stay_(plan.segments.size()),
      weather_(plan),
      power_(power_rows(tables.hours())),
      home_flat_(plan.hours.size()),
      along_flat_(plan.generator ? plan.hours.size() : 0),
      home_bins_(detail == BlockDetail::all ? plan.hours.size() * kBlockStays : 0),
      along_bins_(plan.generator ? home_bins_.size() : 0) {}

const KernelResult& BlockRunner::run(const Sky& sky, std::uint32_t first) {
  fill_weather(sky, first);
  fill_use(first);
  result_.home.flat = home_flat_.data();
  result_.home.charge_bin = home_bins_.empty() ? nullptr : home_bins_.data();
  result_.along.flat = along_flat_.data();
  result_.along.charge_bin = along_bins_.empty() ? nullptr : along_bins_.data();
  kernel_.run(tables_.hours(), weather_.rows(), data_of(power_), result_);
  return result_;
}

NeededEnergy BlockRunner::needed_energy(const Sky& sky, std::uint32_t first) {
  fill_weather(sky, first);
  fill_use(first);
  for (std::vector<StayRow>* rows : {&before_, &resting_, &after_}) {
    rows->resize(plan_.hours.size() + 1);
  }
  const NeededEnergy out{data_of(before_), data_of(resting_), data_of(after_)};
  kernel_.needed_energy(tables_.hours(), weather_.rows(), data_of(power_), out);
  return out;
}

std::uint64_t BlockRunner::flat_hours_at_home(std::uint64_t stays) const {
  return hours_of(home_flat_, stays);
}

std::uint64_t BlockRunner::flat_hours_along(std::uint64_t stays) const {
  return hours_of(along_flat_, stays);
}

std::uint64_t BlockRunner::failed(const std::vector<unsigned long long>& flat) const {
  StaysBeyond failed(plan_.accept_flat_h);
  for (const unsigned long long hour : flat) failed.add(hour);
  return failed.beyond();
}

void BlockRunner::fill_weather(const Sky& sky, std::uint32_t first) {
  if (const KernelDraws* draws = sky.block_draws()) {
    kernel_.draw(*draws, first, data_of(weather_.k), data_of(weather_.temp_mean_c),
                 data_of(weather_.temp_range_c));
    return;
  }
  for (std::uint32_t i = 0; i < kBlockStays; ++i) {
    sky.fill(first + i, sky_of_stay_);
    for (std::size_t s = 0; s < sky_of_stay_.size(); ++s) {
      weather_.k[s].stay[i] = sky_of_stay_[s].k;
      weather_.temp_mean_c[s].stay[i] = sky_of_stay_[s].temp_mean_c;
      weather_.temp_range_c[s].stay[i] = sky_of_stay_[s].temp_range_c;
    }
  }
}

void BlockRunner::fill_use(std::uint32_t first) {
  const std::size_t loads = plan_.flexible.size();
  StayRow draw{}, unused{};
  for (std::size_t l = 0; l < loads; ++l) {
    const FlexibleLoad& load = plan_.flexible[l];
    int drawn_day = -1;
    for (std::size_t s = 0; s < plan_.segments.size(); ++s) {
      const int day = plan_.segments[s].day.value;
      if (load.varies && day != drawn_day) {
        drawn_day = day;
        kernel_.normals(seed_, first, static_cast<unsigned>(day),
                        static_cast<unsigned>(DrawPurpose::load), load.draw_block, draw.stay,
                        unused.stay);
      }
      StayRow& use = weather_.use[s * loads + l];
      for (std::size_t i = 0; i < kBlockStays; ++i) {
        const double variation = load.varies ? load.use_of_draw(draw.stay[i]) : 1.0;
        use.stay[i] = use_on_day(load, static_cast<int>(s), variation, weather_.k[s].stay[i]);
      }
    }
  }
}

LeastHoursRunner::LeastHoursRunner(const PreparedPlan& plan, const StayTables& tables,
                                   const Kernel& kernel)
    : tables_(tables),
      kernel_(kernel),
      weather_(plan),
      power_(power_rows(tables.hours())),
      needed_wh_(plan.hours.size() + 1) {}

void LeastHoursRunner::add(const BlockWeather& block, int i, const Take& take) {
  const auto copy = [&](const std::vector<StayRow>& from, std::vector<StayRow>& to) {
    for (std::size_t row = 0; row < from.size(); ++row) {
      to[row].stay[gathered_] = from[row].stay[i];
    }
  };
  copy(block.k, weather_.k);
  copy(block.temp_mean_c, weather_.temp_mean_c);
  copy(block.temp_range_c, weather_.temp_range_c);
  copy(block.use, weather_.use);
  if (++gathered_ == kBlockStays) finish(take);
}

void LeastHoursRunner::finish(const Take& take) {
  if (gathered_ == 0) return;
  StayRow sum_h{};
  const auto flat = kernel_.least_hours(tables_.hours(), weather_.rows(), data_of(power_),
                                        data_of(needed_wh_), sum_h.stay);
  for (int i = 0; i < gathered_; ++i) {
    if (flat >> i & 1) {
      take(std::nullopt);
    } else {
      take(sum_h.stay[i]);
    }
  }
  gathered_ = 0;
}

}  // namespace dullspell
