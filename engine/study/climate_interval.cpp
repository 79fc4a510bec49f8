#include "engine/study/climate_interval.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <memory>
#include <numeric>

#include "engine/kernel/stay_counts.hpp"
#include "engine/statistics/latin_hypercube.hpp"
#include "engine/stay/sky.hpp"
#include "engine/study/block_pass.hpp"

namespace dullspell {
namespace {

constexpr std::uint64_t kShareOfStays = 16;
constexpr std::uint64_t kMostStaysEach = 4'096;
constexpr std::uint32_t kGrain = 1024;

// The first `stays` of a block by the day on which they fail.
void count_failing(const PreparedPlan& plan, const KernelTrack& track, int stays,
                   Indexed<DayIndex, std::uint32_t>& by_day) {
  const std::uint64_t wanted = first_stays(stays);
  StaysBeyond failed(plan.accept_flat_h);
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    const std::uint64_t failing = failed.add(track.flat[h] & wanted);
    by_day[plan.hours[h].day] += static_cast<std::uint32_t>(std::popcount(failing));
  }
}

void add_each(std::vector<std::uint32_t>& to, const std::vector<std::uint32_t>& from) {
  std::transform(to.begin(), to.end(), from.begin(), to.begin(), std::plus<>());
}

struct Worker {
  const PreparedPlan& plan;
  const std::vector<std::unique_ptr<DrawnSky>>& skies;
  BlockRunner blocks;
  std::vector<ClimateCounts> counts;  // [sky]

  void run_block(const BlockPart& part, std::uint32_t first, int stays) {
    const KernelResult& block = blocks.run(*skies[part.sky], first);
    count_failing(plan, block.home, stays, counts[part.sky].home);
    if (plan.generator) count_failing(plan, block.along, stays, counts[part.sky].along);
  }
};

// std::hypot's last bit depends on the machine.
double root_of_squares(double a, double b) {
  return std::sqrt(a * a + b * b);
}

}  // namespace

std::vector<std::vector<ClimateDeviates>> alternative_climates(std::size_t places,
                                                               std::uint64_t seed) {
  std::vector<std::vector<ClimateDeviates>> out(kAlternativeClimates,
                                                std::vector<ClimateDeviates>(places));
  for (std::size_t place = 0; place < places; ++place) {
    for (std::size_t statistic = 0; statistic < kStatistics; ++statistic) {
      const auto deviates = shuffled_normals(
          kAlternativeClimates, {seed, static_cast<std::uint32_t>(place),
                                 static_cast<std::uint32_t>(statistic), DrawPurpose::climate});
      for (std::size_t i = 0; i < out.size(); ++i) out[i][place][statistic] = deviates[i];
    }
  }
  return out;
}

std::uint64_t climate_stays(std::uint64_t stays) {
  return std::clamp<std::uint64_t>(stays / kShareOfStays, 1, kMostStaysEach);
}

std::vector<ClimateCounts> run_climates(const PreparedPlan& plan, std::uint64_t seed,
                                        std::uint64_t stays, int threads,
                                        InstructionSet instruction_set, const Progress& progress) {
  const std::uint64_t each = climate_stays(stays);
  std::vector<StayClimate> climates{plan.climate.stated()};
  for (const auto& errors : alternative_climates(plan.climate.places(), seed)) {
    climates.push_back(plan.climate.off_by(errors));
  }
  std::vector<std::unique_ptr<DrawnSky>> skies;
  for (const StayClimate& climate : climates) {
    skies.push_back(std::make_unique<DrawnSky>(plan, climate, seed));
  }
  const StayTables tables(plan);
  const Kernel kernel = kernel_for(instruction_set);
  const Indexed<DayIndex, std::uint32_t> none(plan.dates.size(), 0);
  std::vector<ClimateCounts> out(climates.size(), {each, none, none});
  PartsDone done(progress, "stays under other climates", climates.size() * each);
  const auto make = [&] {
    return Worker{plan, skies, BlockRunner(plan, tables, seed, kernel, BlockDetail::flat_only),
                  out};
  };
  const auto workers =
      run_parts<Worker>(block_parts(climates.size(), 0, each, kGrain), threads, make,
                        [&](const Worker&, const BlockPart& part) { done.add(part.stays); });
  for (std::size_t c = 0; c < out.size(); ++c) {
    for (const auto& worker : workers) {
      add_each(out[c].home, worker->counts[c].home);
      add_each(out[c].along, worker->counts[c].along);
    }
  }
  return out;
}

std::vector<std::uint64_t> flat_stays(const std::vector<ClimateCounts>& climates,
                                      Indexed<DayIndex, std::uint32_t> ClimateCounts::*track) {
  std::vector<std::uint64_t> out;
  for (const ClimateCounts& climate : climates) {
    const auto& by_day = climate.*track;
    out.push_back(std::accumulate(by_day.begin(), by_day.end(), std::uint64_t{0}));
  }
  return out;
}

Interval climate_interval(double estimate, const Interval& sampling,
                          std::span<const double> values) {
  std::vector<double> moved;
  for (const double value : values.subspan(1)) moved.push_back(estimate + value - values.front());
  std::sort(moved.begin(), moved.end());
  const double below = std::max(0.0, estimate - quantile_of_sorted(moved, 0.025));
  const double above = std::max(0.0, quantile_of_sorted(moved, 0.975) - estimate);
  return {estimate - root_of_squares(below, estimate - sampling.low),
          estimate + root_of_squares(above, sampling.high - estimate)};
}

Interval climate_interval(const Proportion& share, std::span<const std::uint64_t> counts,
                          std::uint64_t of) {
  std::vector<double> values;
  for (const std::uint64_t count : counts) {
    values.push_back(static_cast<double>(count) / static_cast<double>(of));
  }
  const Interval found = climate_interval(share.p, share.interval, values);
  return {std::max(0.0, found.low), std::min(1.0, found.high)};
}

}  // namespace dullspell
