#include "engine/study.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <mutex>
#include <numeric>

#include "engine/climate_interval.hpp"
#include "engine/kernel/block_runner.hpp"
#include "engine/parallel.hpp"

namespace dullspell {
namespace {

constexpr std::size_t kGrain = 256;
constexpr std::uint64_t kFirstBatch = 8'192;
constexpr std::uint64_t kBatchUnit = 4'096;

ChargeQuantiles quantiles_of(const ChargeHistogram& h) {
  return {h.quantile(0.05), h.quantile(0.25), h.quantile(0.50), h.quantile(0.75), h.quantile(0.95)};
}

Spread spread_of(const Histogram& h, const FixedSum& sum, std::uint64_t stays) {
  return {sum.value() / static_cast<double>(stays), h.quantile(0.50, true), h.quantile(0.90, true),
          h.quantile(0.99, true)};
}

std::optional<UsualFailure> usual_failure(const PreparedPlan& plan, const TrackTally& t) {
  if (t.flat_stays == 0) return std::nullopt;
  const auto day = std::max_element(t.first_flat_on_day.begin(), t.first_flat_on_day.end());
  UsualFailure out;
  out.day = static_cast<int>(day - t.first_flat_on_day.begin());
  std::uint32_t most = 0;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    if (plan.hours[h].day == out.day && t.first_flat_at_hour[h] > most) {
      most = t.first_flat_at_hour[h];
      out.hour_of_day = plan.hours[h].hour_of_day;
    }
  }
  out.day_share = static_cast<double>(*day) / static_cast<double>(t.flat_stays);
  out.lasts_h = std::floor(t.first_outage_h.quantile(0.5));
  return out;
}

TrackRisk risk_of(const PreparedPlan& plan, const TrackTally& t, std::uint64_t stays) {
  TrackRisk risk;
  const double n = static_cast<double>(stays);
  risk.flat = Proportion(t.flat_stays, stays);
  std::uint64_t flat_by = 0;
  for (std::size_t d = 0; d < plan.dates.size(); ++d) {
    flat_by += t.first_flat_on_day[d];
    DayRisk day;
    day.day = plan.first_day + static_cast<int>(d) + 1;
    day.date = plan.dates[d];
    day.flat_on_day = Proportion(t.flat_on_day[d], stays);
    day.flat_by_day = Proportion(flat_by, stays);
    if (t.morning_low[d].count() > 0) day.morning_low = quantiles_of(t.morning_low[d]);
    risk.days.push_back(day);
  }
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    risk.hours.push_back({h, quantiles_of(t.charge[h])});
  }
  risk.usual_failure = usual_failure(plan, t);
  for (const auto count : t.flat_hour_of_day) {
    risk.flat_hour_of_day.push_back(
        t.flat_hours ? static_cast<double>(count) / static_cast<double>(t.flat_hours) : 0.0);
  }
  risk.flat_hours_share =
      static_cast<double>(t.flat_hours) / (n * static_cast<double>(plan.hours.size()));
  const double demand = t.demand_wh.value();
  risk.shortfall_share = demand > 0.0 ? t.shortfall_wh.value() / demand : 0.0;
  risk.shortfall_wh = t.shortfall_wh.value() / n;
  risk.demand_wh = demand / n;
  risk.given_up_wh = t.given_up_wh.value() / n;
  risk.spilled_wh = t.spilled_wh.value() / n;
  return risk;
}

// Shares of stays with no generator hour, with up to 1 h, up to 2 h, ...; ends at the last that
// occurs.
std::vector<double> whole_hours(const Histogram& h, std::uint64_t stays) {
  const auto per_hour = static_cast<std::size_t>(std::lround(1.0 / h.bin_width()));
  std::vector<double> out{0.0};
  const auto& counts = h.counts();
  for (std::size_t i = 0; i < counts.size(); ++i) {
    if (counts[i] == 0) continue;
    const std::size_t slot = i == 0 ? 0 : (i + per_hour - 1) / per_hour;
    if (out.size() <= slot) out.resize(slot + 1, 0.0);
    out[slot] += static_cast<double>(counts[i]) / static_cast<double>(stays);
  }
  return out;
}

GeneratorResult generator_result(const PreparedPlan& plan, const Tally& tally) {
  GeneratorResult out;
  out.risk = risk_of(plan, tally.along, tally.stays);
  out.hours = spread_of(tally.along.generator_h, tally.along.generator_h_sum, tally.stays);
  out.fuel_l = spread_of(tally.along.fuel_l, tally.along.fuel_l_sum, tally.stays);
  const Histogram& starts = tally.along.starts;
  out.starts = {tally.along.starts_sum.value() / static_cast<double>(tally.stays),
                std::floor(starts.quantile(0.50)), std::floor(starts.quantile(0.90)),
                std::floor(starts.quantile(0.99))};
  out.hours_histogram = whole_hours(tally.along.generator_h, tally.stays);
  out.not_enough = Proportion(tally.least_not_enough, tally.stays);
  if (const std::uint64_t enough = tally.stays - tally.least_not_enough; enough > 0) {
    const Histogram& h = tally.least_generator_h;
    double sum = 0.0;
    for (std::size_t i = 1; i < h.counts().size(); ++i) {
      sum += (static_cast<double>(i) + 0.5) * h.bin_width() * h.counts()[i];
    }
    out.least_hours = Spread{sum / static_cast<double>(enough), h.quantile(0.50, true),
                             h.quantile(0.90, true), h.quantile(0.99, true)};
  }
  return out;
}

double widest_half_width(const PreparedPlan& plan, const Tally& tally) {
  const auto widest_of = [&](const TrackTally& t) {
    double widest = Proportion(t.flat_stays, tally.stays).interval.half_width();
    std::uint64_t by = 0;
    for (std::size_t d = 0; d < plan.dates.size(); ++d) {
      by += t.first_flat_on_day[d];
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
                           std::vector<std::uint32_t> ClimateCounts::*track, TrackRisk& risk) {
  std::vector<std::uint64_t> flat_by(climates.size(), 0);
  for (std::size_t d = 0; d < risk.days.size(); ++d) {
    for (std::size_t c = 0; c < climates.size(); ++c) flat_by[c] += (climates[c].*track)[d];
    risk.days[d].flat_by_day_climate =
        climate_interval(risk.days[d].flat_by_day, flat_by, climates.front().stays);
  }
  risk.flat_climate = climate_interval(risk.flat, flat_by, climates.front().stays);
}

// What one thread needs at a time.
struct Worker {
  BlockRunner blocks;
  LeastHoursRunner least_hours;
  Tally tally;

  void run_block(const PreparedPlan& plan, std::uint32_t first, int count) {
    tally.add(plan, blocks.run(first), count);
    if (!plan.generator) return;
    const std::uint64_t flat = blocks.flat_at_home();
    for (int i = 0; i < count; ++i) {
      if (flat >> i & 1) {
        least_hours.add(blocks.weather(), i, take());
      } else {
        tally.add_least_generator_h(0.0);
      }
    }
  }
  void finish() { least_hours.finish(take()); }

  LeastHoursRunner::Take take() {
    return [this](std::optional<double> hours) { tally.add_least_generator_h(hours); };
  }
};

}  // namespace

Tally run_stays(const PreparedPlan& plan, const Sky& sky, std::uint64_t seed, std::uint64_t first,
                std::uint64_t count, int threads, const Progress& progress,
                InstructionSet instruction_set) {
  const StayTables tables(plan);
  const Kernel kernel = kernel_for(instruction_set);
  Tally total(plan);
  std::mutex merging;
  std::vector<std::unique_ptr<Worker>> idle;
  std::uint64_t done = 0, flat = 0;
  for_each_range(count, kGrain, threads, [&](std::size_t begin, std::size_t end) {
    std::unique_ptr<Worker> worker;
    {
      const std::lock_guard lock(merging);
      if (!idle.empty()) {
        worker = std::move(idle.back());
        idle.pop_back();
      }
    }
    if (!worker) {
      worker =
          std::make_unique<Worker>(Worker{BlockRunner(plan, tables, sky, seed, kernel),
                                          LeastHoursRunner(plan, tables, kernel), Tally(plan)});
    }
    const std::uint64_t flat_before = worker->tally.home.flat_stays;
    for (std::size_t i = begin; i < end; i += kBlockStays) {
      worker->run_block(plan, static_cast<std::uint32_t>(first + i),
                        static_cast<int>(std::min<std::size_t>(end - i, kBlockStays)));
    }
    const std::lock_guard lock(merging);
    done += end - begin;
    flat += worker->tally.home.flat_stays - flat_before;
    idle.push_back(std::move(worker));
    if (progress) progress({"stays", done, count, flat});
  });
  for (const auto& worker : idle) {
    worker->finish();
    total += worker->tally;
  }
  return total;
}

StudyResult run_study(const PreparedPlan& plan, const StudyOptions& options,
                      const Progress& progress) {
  StudyResult result = run_study(plan, DrawnSky(plan, options.seed), options, progress);
  const auto climates = run_climates(plan, options.seed, result.stays, options.threads,
                                     options.instruction_set, progress);
  add_climate_intervals(climates, &ClimateCounts::home, result.home);
  if (result.generator) {
    add_climate_intervals(climates, &ClimateCounts::along, result.generator->risk);
  }
  return result;
}

StudyResult run_study(const PreparedPlan& plan, const Sky& sky, const StudyOptions& options,
                      const Progress& progress) {
  StudyResult result;
  result.seed = options.seed;
  result.precision = options.precision;
  result.instruction_set = options.instruction_set;
  Tally tally(plan);
  std::uint64_t planned = options.precision ? kFirstBatch : options.stays;
  while (true) {
    const std::uint64_t done = tally.stays, flat = tally.home.flat_stays;
    tally += run_stays(
        plan, sky, options.seed, done, planned - done, options.threads,
        [&](const WorkDone& batch) {
          if (progress) {
            progress({batch.what, done + batch.done, planned, flat + *batch.flat_stays});
          }
        },
        options.instruction_set);
    if (!options.precision) break;
    const double half_width = widest_half_width(plan, tally);
    result.precision_reached = half_width <= *options.precision;
    if (result.precision_reached || tally.stays >= kMostStays) break;
    planned = next_total(tally.stays, half_width, *options.precision);
  }
  result.stays = tally.stays;
  result.home = risk_of(plan, tally.home, tally.stays);
  if (plan.generator) result.generator = generator_result(plan, tally);
  const double days = static_cast<double>(plan.hours.size()) / 24.0;
  result.panels_wh_per_day = tally.panels_wh.value() / static_cast<double>(tally.stays) / days;
  return result;
}

}  // namespace dullspell
