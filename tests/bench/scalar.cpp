// The straightforward program: one stay after the other through the readable loop (StayRunner), its
// weather drawn by library generators. How much a day's loads vary is still drawn by StayRunner.

#include <cstdint>
#include <span>

#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>

#include <benchmark/benchmark.h>

#include "engine/plan/plan_file.hpp"
#include "engine/stay/prepared_plan.hpp"
#include "engine/stay/sky.hpp"
#include "engine/stay/stay.hpp"
#include "engine/study/prepare.hpp"
#include "engine/study/tally.hpp"
#include "weather/temperature.hpp"

namespace dullspell::bench {
namespace {

constexpr std::uint64_t kSeed = 1;

/// For one thread and stays in order: the generator is seeded before every `stays_per_seed`-th one.
class TwisterSky : public Sky {
 public:
  TwisterSky(const PreparedPlan& plan, std::uint32_t stays_per_seed)
      : plan_(plan), stays_per_seed_(stays_per_seed) {}

  void fill(std::uint32_t stay, std::span<SegmentSky> out) const override {
    if (stay % stays_per_seed_ == 0) {
      engine_.seed(kSeed + stay);
      normal_.reset();
    }
    const double year = normal_(engine_);
    double z = 0.0, warm = 0.0;
    int day = -1;
    for (std::size_t i = 0; i < out.size(); ++i) {
      const Segment& s = plan_.segments[i];
      const DayLink& link = plan_.sequence.links()[static_cast<std::size_t>(s.day.value)];
      if (s.day.value != day) {
        const double fresh = normal_(engine_), fresh_warm = normal_(engine_);
        z = day < 0 ? fresh : link.sky_kept * z + link.sky_new * fresh;
        warm =
            day < 0 ? fresh_warm : link.innovation_kept * warm + link.innovation_new * fresh_warm;
        day = s.day.value;
      }
      const double chi = link.of_year * year + link.of_day * z;
      const double k = s.k_of_chi(chi);
      out[i] = {k, s.temp_mean_c + s.temp_per_chi * chi + s.temp_per_innovation * warm,
                daily_range_c(s.range_mean_c, s.range_k_slope, k, s.k_mean)};
    }
  }

 private:
  const PreparedPlan& plan_;
  std::uint32_t stays_per_seed_;
  mutable boost::random::mt19937_64 engine_;
  mutable boost::random::normal_distribution<double> normal_;
};

void run_scalar(benchmark::State& state, std::uint32_t stays_per_seed) {
  const PreparedPlan plan = prepare(read_plan(DULLSPELL_DEMO_PLAN));
  const TwisterSky sky(plan, stays_per_seed);
  StayRunner stays(plan, sky, kSeed, StayDetail::risk_only);
  Tally tally(plan);
  constexpr std::uint32_t kStays = 2000;
  std::uint32_t stay = 0;
  for (auto _ : state) {
    for (std::uint32_t i = 0; i < kStays; ++i) tally.add(plan, stays.run(stay++));
  }
  state.counters["per_stay_hour"] =
      benchmark::Counter(static_cast<double>(tally.stays) * static_cast<double>(plan.hours.size()),
                         benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
  state.counters["stays"] = static_cast<double>(tally.stays);
  state.counters["flat_home"] = static_cast<double>(tally.home.flat_stays);
  state.counters["flat_along"] = static_cast<double>(tally.along.flat_stays);
}

BENCHMARK_CAPTURE(run_scalar, seeded_per_stay, 1);
BENCHMARK_CAPTURE(run_scalar, seeded_per_chunk, 2000);

}  // namespace
}  // namespace dullspell::bench

BENCHMARK_MAIN();
