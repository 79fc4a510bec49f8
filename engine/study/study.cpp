#include "engine/study/study.hpp"

#include <algorithm>

#include "engine/study/block_pass.hpp"

namespace dullspell {
namespace {

constexpr std::uint32_t kGrain = 256;
constexpr std::uint64_t kFirstBatch = 8'192;
constexpr std::uint64_t kBatchUnit = 4'096;

double widest_half_width(const PreparedPlan& plan, const Tally& tally) {
  const auto widest_of = [&](const TrackTally& t) {
    double widest = Proportion(t.flat_stays, tally.stays).interval.half_width();
    std::uint64_t by = 0;
    for (std::size_t d = 0; d < plan.dates.size(); ++d) {
      by += t.fails_on_day[d];
      widest = std::max({widest, Proportion(t.flat_on_day[d], tally.stays).interval.half_width(),
                         Proportion(by, tally.stays).interval.half_width()});
    }
    return widest;
  };
  const double home = widest_of(tally.home);
  return plan.generator ? std::max(home, widest_of(tally.along)) : home;
}

// Stays that the precision probably needs, in whole batch units; the next look is there.
std::uint64_t next_total(std::uint64_t done, double half_width, double precision) {
  const double ratio = half_width / precision;
  const double needed = 1.02 * static_cast<double>(done) * ratio * ratio;
  const auto units = static_cast<std::uint64_t>(std::min(needed, static_cast<double>(kMostStays)) /
                                                static_cast<double>(kBatchUnit));
  return std::clamp((units + 1) * kBatchUnit, done + kBatchUnit, kMostStays);
}

void add_climate_intervals(const std::vector<ClimateCounts>& climates,
                           Indexed<DayIndex, std::uint32_t> ClimateCounts::*track,
                           TrackRisk& risk) {
  std::vector<std::uint64_t> flat_by(climates.size(), 0);
  for (std::size_t d = 0; d < risk.days.size(); ++d) {
    for (std::size_t c = 0; c < climates.size(); ++c) flat_by[c] += (climates[c].*track)[d];
    risk.days[d].flat_by_day_climate =
        climate_interval(risk.days[d].flat_by_day, flat_by, climates.front().stays);
  }
  risk.flat_climate = climate_interval(risk.flat, flat_by, climates.front().stays);
}

// What one thread needs at a time. Outcomes of different blocks lie apart: workers share them.
struct Worker {
  const PreparedPlan& plan;
  const Sky& sky;
  StayOutcomes* outcomes;  // null: not kept
  BlockRunner blocks;
  LeastHoursRunner least_hours;
  Tally tally;
  std::uint64_t flat_told = 0;

  void run_block(const BlockPart&, std::uint32_t first, int stays) {
    const KernelResult& block = blocks.run(sky, first);
    tally.add(plan, block, stays);
    if (outcomes) outcomes->take(blocks, block, first, stays);
    if (!plan.generator) return;
    const std::uint64_t failed = blocks.failed_at_home();
    for (int i = 0; i < stays; ++i) {
      if (failed >> i & 1) {
        least_hours.add(blocks.weather(), i, take());
      } else {
        tally.add_least_generator_h(0.0);
      }
    }
  }

  void finish() { least_hours.finish(take()); }

  // Stays that ran flat since it was asked last.
  std::uint64_t newly_flat() {
    const std::uint64_t before = flat_told;
    flat_told = tally.home.flat_stays;
    return flat_told - before;
  }

 private:
  LeastHoursRunner::Take take() {
    return [this](std::optional<double> hours) { tally.add_least_generator_h(hours); };
  }
};

struct StayRange {
  std::uint64_t first, count;
};

Tally run_range(const PreparedPlan& plan, const Sky& sky, const StudyOptions& options,
                const StayRange& range, StayOutcomes* outcomes, const Progress& progress) {
  const StayTables tables(plan);
  const Kernel kernel = kernel_for(options.instruction_set);
  const auto make = [&] {
    return Worker{plan,
                  sky,
                  outcomes,
                  BlockRunner(plan, tables, options.seed, kernel),
                  LeastHoursRunner(plan, tables, kernel),
                  Tally(plan)};
  };
  std::uint64_t done = 0, flat = 0;
  const auto workers =
      run_parts<Worker>(block_parts(1, range.first, range.count, kGrain), options.threads, make,
                        [&](Worker& worker, const BlockPart& part) {
                          done += part.stays;
                          flat += worker.newly_flat();
                          if (progress) progress({"stays", done, range.count, flat});
                        });
  Tally total(plan);
  for (const auto& worker : workers) {
    worker->finish();
    total += worker->tally;
  }
  return total;
}

// Batches until the precision is reached, or the one batch that was asked for.
StudyResult run_batches(const PreparedPlan& plan, const Sky& sky, const StudyOptions& options,
                        StayOutcomes* outcomes, const Progress& progress) {
  Tally tally(plan);
  bool precision_reached = true;
  std::uint64_t planned = options.precision ? kFirstBatch : options.stays;
  while (true) {
    const std::uint64_t done = tally.stays, flat = tally.home.flat_stays;
    if (outcomes) outcomes->resize(planned, plan.generator ? Tracks::both : Tracks::home);
    tally +=
        run_range(plan, sky, options, {done, planned - done}, outcomes, [&](const WorkDone& batch) {
          if (progress) {
            progress({batch.what, done + batch.done, planned, flat + *batch.flat_stays});
          }
        });
    if (!options.precision) break;
    const double half_width = widest_half_width(plan, tally);
    precision_reached = half_width <= *options.precision;
    if (precision_reached || tally.stays >= kMostStays) break;
    planned = next_total(tally.stays, half_width, *options.precision);
  }
  StudyResult result = study_result(plan, tally);
  result.seed = options.seed;
  result.precision = options.precision;
  result.instruction_set = options.instruction_set;
  result.precision_reached = precision_reached;
  return result;
}

}  // namespace

Tally run_stays(const PreparedPlan& plan, const Sky& sky, std::uint64_t seed, std::uint64_t first,
                std::uint64_t count, int threads, const Progress& progress,
                InstructionSet instruction_set) {
  StudyOptions options;
  options.seed = seed;
  options.threads = threads;
  options.instruction_set = instruction_set;
  return run_range(plan, sky, options, {first, count}, nullptr, progress);
}

Study run_whole_study(const PreparedPlan& plan, const StudyOptions& options, Keep keep,
                      const Progress& progress) {
  Study study;
  const DrawnSky sky(plan, options.seed);
  study.result =
      run_batches(plan, sky, options, keep == Keep::outcomes ? &study.outcomes : nullptr, progress);
  study.climates = run_climates(plan, options.seed, study.result.stays, options.threads,
                                options.instruction_set, progress);
  add_climate_intervals(study.climates, &ClimateCounts::home, study.result.home);
  if (study.result.generator) {
    add_climate_intervals(study.climates, &ClimateCounts::along, study.result.generator->risk);
  }
  return study;
}

StudyResult run_study(const PreparedPlan& plan, const StudyOptions& options,
                      const Progress& progress) {
  return run_whole_study(plan, options, Keep::counts, progress).result;
}

StudyResult run_study(const PreparedPlan& plan, const Sky& sky, const StudyOptions& options,
                      const Progress& progress) {
  return run_batches(plan, sky, options, nullptr, progress);
}

}  // namespace dullspell
