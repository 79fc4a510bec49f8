// Time per stay-hour of the block kernel and of its floor, on each instruction set that this
// machine can run; of a whole study on one thread and two; and how it grows with the plan.

#include <string>
#include <vector>

#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include "engine/plan/plan_file.hpp"
#include "engine/stay/expected_stay.hpp"
#include "engine/study/prepare.hpp"
#include "engine/study/study.hpp"
#include "tests/bench/floor.hpp"
#include "tests/bench/kernel_study.hpp"
#include "weather/random_stream.hpp"

namespace dullspell::bench {
namespace {

constexpr std::uint32_t kStays = 4096;

// Seconds per stay-hour, of CPU time unless the benchmark measures real time.
void count_stay_hours(benchmark::State& state, const PreparedPlan& plan, std::uint64_t stays) {
  const double each = static_cast<double>(stays) * static_cast<double>(plan.hours.size());
  state.counters["per_stay_hour"] = benchmark::Counter(
      each, benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

void run_kernel(benchmark::State& state, const PreparedPlan& plan, InstructionSet set,
                std::uint32_t stays) {
  KernelStudy study(plan, set);
  std::uint32_t first = 0;
  for (auto _ : state) {
    study.run(first, stays);
    first += stays;
  }
  benchmark::DoNotOptimize(study.tally().home.flat_stays);
  count_stay_hours(state, plan, stays);
}

Floor floor_for(InstructionSet set) {
#ifdef DULLSPELL_X86_LEVELS
  if (set == InstructionSet::v3) return run_floor_v3;
  if (set == InstructionSet::v4) return run_floor_v4;
#endif
  return run_floor_baseline;
}

std::vector<FloorHour> floor_hours(const PreparedPlan& plan) {
  const ExpectedStay stay(plan);
  const double bins_per_wh = (kFloorBins - 1) / plan.usable_wh();
  const auto net_w = [&](std::size_t h, double k) {
    const ExpectedHour hour = stay.at(h, k);
    return hour.panels_w - hour.draw_w;
  };
  std::vector<FloorHour> hours;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    const HourSlot& slot = plan.hours[h];
    const double charger_w = plan.generator ? plan.generator->charger_w : 0.0;
    hours.push_back({slot.day.value, bins_per_wh * (net_w(h, 0.4) + slot.vehicle_w),
                     bins_per_wh * (net_w(h, 0.6) - net_w(h, 0.4)) / 2.0,
                     bins_per_wh * charger_w * slot.source_share / 8.0});
  }
  return hours;
}

void run_floor(benchmark::State& state, const PreparedPlan& plan, InstructionSet set) {
  const std::vector<FloorHour> hours = floor_hours(plan);
  FloorPlan floor{static_cast<int>(hours.size()),
                  plan.days(),
                  0,
                  hours.data(),
                  kSeed,
                  static_cast<unsigned>(DrawPurpose::year),
                  static_cast<unsigned>(DrawPurpose::weather),
                  static_cast<unsigned>(DrawPurpose::load)};
  for (const FlexibleLoad& load : plan.flexible) floor.varying_loads += load.varies;
  struct alignas(64) Row {
    double draw[kFloorStays];
  };
  std::vector<Row> draws(plan.dates.size());
  std::vector<unsigned> counts(hours.size() * 2 * kFloorBins);
  const Floor run = floor_for(set);
  const BlockNormals normals = kernel_for(set).normals;
  std::uint32_t first = 0;
  for (auto _ : state) {
    run(floor, normals, first, draws.front().draw, counts.data());
    benchmark::ClobberMemory();
    first += kFloorStays;
  }
  count_stay_hours(state, plan, kFloorStays);
}

void run_threads(benchmark::State& state, const PreparedPlan& plan, int threads) {
  constexpr std::uint64_t kStudy = 65'536;
  const DrawnSky sky(plan, kSeed);
  for (auto _ : state) {
    benchmark::DoNotOptimize(run_stays(plan, sky, kSeed, 0, kStudy, threads).home.flat_stays);
  }
  count_stay_hours(state, plan, kStudy);
}

// The demo plan with more of one thing.
struct Growth {
  std::string of;
  std::vector<int> sizes;
  void (*set)(Plan&, int);
};

void set_nights(Plan& plan, int nights) {
  for (Camp& camp : plan.camps) camp.nights = nights / static_cast<int>(plan.camps.size());
}

void add_loads(Plan& plan, int count, double varies) {
  for (int i = 0; i < count; ++i) {
    Load load = plan.loads.front();
    load.name = fmt::format("one more {}", i);
    load.watts = 20.0 / count;
    load.varies = varies;
    plan.loads.push_back(load);
  }
}

void set_panel_groups(Plan& plan, int count) {
  PanelGroup group = plan.panels.front();
  Controller controller = plan.controllers.front();
  group.rated_w /= count;
  controller.limit_w /= count;
  plan.panels.clear();
  plan.controllers.assign(static_cast<std::size_t>(count), controller);
  for (int i = 0; i < count; ++i) {
    group.controller = static_cast<std::size_t>(i);
    plan.panels.push_back(group);
  }
}

const std::vector<Growth> kGrowths{
    {"nights", {4, 8, 16, 32}, set_nights},
    {"fixed loads", {2, 4, 8, 16}, [](Plan& plan, int n) { add_loads(plan, n, 0.0); }},
    {"varying loads", {2, 4, 8, 16}, [](Plan& plan, int n) { add_loads(plan, n, 0.3); }},
    {"panel groups", {2, 4, 8, 16}, set_panel_groups}};

void register_all(const Plan& demo) {
  const PreparedPlan plan = prepare(demo);
  for (const auto set : {InstructionSet::baseline, InstructionSet::v3, InstructionSet::v4}) {
    if (!can_run(set)) continue;
    benchmark::RegisterBenchmark(("kernel/" + to_string(set)).c_str(),
                                 [=](auto& state) { run_kernel(state, plan, set, kStays); });
    benchmark::RegisterBenchmark(("floor/" + to_string(set)).c_str(),
                                 [=](auto& state) { run_floor(state, plan, set); });
  }
  for (const int threads : {1, 2}) {
    benchmark::RegisterBenchmark(fmt::format("threads/{}", threads).c_str(),
                                 [=](auto& state) { run_threads(state, plan, threads); })
        ->MeasureProcessCPUTime()
        ->UseRealTime();
  }
  for (const int stays : {1024, 4096, 16384, 65536}) {
    benchmark::RegisterBenchmark(fmt::format("growth/stays/{}", stays).c_str(), [=](auto& state) {
      run_kernel(state, plan, best_instruction_set(), static_cast<std::uint32_t>(stays));
    });
  }
  for (const Growth& growth : kGrowths) {
    for (const int size : growth.sizes) {
      Plan larger = demo;
      growth.set(larger, size);
      benchmark::RegisterBenchmark(fmt::format("growth/{}/{}", growth.of, size).c_str(),
                                   [prepared = prepare(larger)](auto& state) {
                                     run_kernel(state, prepared, best_instruction_set(), kStays);
                                   });
    }
  }
}

}  // namespace
}  // namespace dullspell::bench

int main(int argc, char** argv) {
  dullspell::bench::register_all(dullspell::read_plan(DULLSPELL_DEMO_PLAN));
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
  benchmark::RunSpecifiedBenchmarks();
}
