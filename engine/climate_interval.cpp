#include "engine/climate_interval.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numeric>

#include "engine/kernel/block_runner.hpp"
#include "engine/latin_hypercube.hpp"
#include "engine/parallel.hpp"
#include "engine/stay/sky.hpp"

namespace dullspell {
namespace {

constexpr std::uint64_t kShareOfStays = 16;
constexpr std::uint64_t kMostStaysEach = 4'096;
constexpr std::size_t kGrain = 1024;

// The first `stays` of a block by the day on which they first run flat.
void count_first_flat(const PreparedPlan& plan, const KernelTrack& track, int stays,
                      std::vector<std::uint32_t>& by_day) {
  const std::uint64_t wanted = first_stays(stays);
  std::uint64_t ever = 0;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    const std::uint64_t first = track.flat[h] & wanted & ~ever;
    by_day[static_cast<std::size_t>(plan.hours[h].day)] +=
        static_cast<std::uint32_t>(std::popcount(first));
    ever |= first;
  }
}

void add_each(std::vector<std::uint32_t>& to, const std::vector<std::uint32_t>& from) {
  std::transform(to.begin(), to.end(), from.begin(), to.begin(), std::plus<>());
}

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
  const StayTables tables(plan);
  const Kernel kernel = kernel_for(instruction_set);
  const std::size_t ranges = (each + kGrain - 1) / kGrain;
  const std::vector<std::uint32_t> none(plan.dates.size(), 0);
  std::vector<ClimateCounts> parts(climates.size() * ranges, {0, none, none});
  PartsDone done(progress, "stays under other climates", climates.size() * each);
  for_each_range(parts.size(), 1, threads, [&](std::size_t part, std::size_t) {
    const DrawnSky sky(plan, climates[part / ranges], seed);
    BlockRunner runner(plan, tables, sky, seed, kernel, BlockDetail::flat_only);
    ClimateCounts& counts = parts[part];
    const std::size_t begin = part % ranges * kGrain;
    const std::size_t end = std::min<std::size_t>(begin + kGrain, each);
    for (std::size_t stay = begin; stay < end; stay += kBlockStays) {
      const KernelResult& block = runner.run(static_cast<std::uint32_t>(stay));
      const int count = static_cast<int>(std::min<std::size_t>(end - stay, kBlockStays));
      count_first_flat(plan, block.home, count, counts.home);
      if (plan.generator) count_first_flat(plan, block.along, count, counts.along);
    }
    done.add(end - begin);
  });
  std::vector<ClimateCounts> out(climates.size(), {each, none, none});
  for (std::size_t part = 0; part < parts.size(); ++part) {
    add_each(out[part / ranges].home, parts[part].home);
    add_each(out[part / ranges].along, parts[part].along);
  }
  return out;
}

std::vector<std::uint64_t> flat_stays(const std::vector<ClimateCounts>& climates,
                                      std::vector<std::uint32_t> ClimateCounts::*track) {
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
