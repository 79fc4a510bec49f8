#include "engine/decisions/least_size.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <memory>
#include <mutex>

#include "engine/decisions/size_search.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/stay/sky.hpp"
#include "engine/study/climate_interval.hpp"
#include "engine/study/parallel.hpp"
#include "engine/study/prepare.hpp"

namespace dullspell {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

Interval bounds_of(SizeOf of) {
  return of == SizeOf::battery ? Interval{kLeastBattery_wh, kMostBattery_wh}
                               : Interval{kLeastPanels_w, kMostPanels_w};
}

// Under climates the answer need not be so fine; the same few sizes for all of them.
std::vector<double> coarse_sizes(SizeOf of) {
  constexpr double kRatio = 1.005;
  const Interval bounds = bounds_of(of);
  std::vector<double> sizes;
  for (double size = bounds.low; size < bounds.high; size *= kRatio) sizes.push_back(size);
  sizes.push_back(bounds.high);
  return sizes;
}

// Prepared plans that several threads ask for, each made once or twice.
class SharedPlans {
 public:
  explicit SharedPlans(const SizedPlans& plans) : plans_(plans) {}

  std::shared_ptr<const PreparedPlan> prepared(double size) {
    {
      const std::lock_guard lock(mutex_);
      const auto known = made_.find(size);
      if (known != made_.end()) return known->second;
    }
    auto made = std::make_shared<const PreparedPlan>(plans_.prepared(size));
    const std::lock_guard lock(mutex_);
    return made_.try_emplace(size, std::move(made)).first->second;
  }

 private:
  const SizedPlans& plans_;
  std::mutex mutex_;
  std::map<double, std::shared_ptr<const PreparedPlan>> made_;
};

// Logarithm of the least size under each climate, entry 0 as stated; infinite where none does.
std::vector<double> answers_by_climate(const SizedPlans& plans, const SizeQuestion& question,
                                       const SizeOptions& options, double near,
                                       const Progress& progress) {
  const ClimateOfStay& climate = plans.stated().climate;
  std::vector<StayClimate> climates{climate.stated()};
  for (const auto& errors : alternative_climates(climate.places(), options.seed)) {
    climates.push_back(climate.off_by(errors));
  }
  SizeOptions few = options;
  few.stays = climate_stays(options.stays);
  few.threads = 1;
  const std::uint64_t allowed = flat_target(question.accept_risk, few.stays).allowed;
  const std::vector<double> sizes = coarse_sizes(question.of);
  SharedPlans shared(plans);
  std::vector<double> out(climates.size(), kInfinity);
  PartsDone done(progress, "searches under other climates", climates.size());
  for_each_range(climates.size(), 1, options.threads, [&](std::size_t i, std::size_t) {
    const DrawnSky sky(plans.stated(), climates[i], options.seed);
    SizeSearch search(sizes,
                      [&](double size) { return flat_stays(*shared.prepared(size), sky, few); });
    constexpr std::size_t kStep = 8;
    if (const auto least = search.least(allowed, search.index_of(near), kStep)) {
      out[i] = std::log(search.size(*least));
    }
    done.add();
  });
  return out;
}

std::optional<Interval> climate_of(const SizedPlans& plans, const SizeQuestion& question,
                                   const SizeOptions& options, const LeastSize& found,
                                   const Progress& progress) {
  if (plans.stated().climate.places() == 0) return std::nullopt;
  const std::vector<double> answers =
      answers_by_climate(plans, question, options, found.least->size, progress);
  if (std::isinf(answers.front())) return std::nullopt;
  const Interval logarithms =
      climate_interval(std::log(found.least->size),
                       {std::log(found.sampling.low), std::log(found.sampling.high)}, answers);
  const Interval bounds = bounds_of(question.of);
  const double high = std::exp(logarithms.high);
  return Interval{std::max(bounds.low, std::exp(logarithms.low)),
                  high > bounds.high ? kInfinity : high};
}

}  // namespace

void add_to_curve(std::vector<SizeRisk>& curve, const SizeRisk& risk) {
  const auto at =
      std::lower_bound(curve.begin(), curve.end(), risk.size,
                       [](const SizeRisk& other, double size) { return other.size < size; });
  if (at == curve.end() || at->size != risk.size) curve.insert(at, risk);
}

SizedPlans::SizedPlans(Plan plan, SizeOf of, bool with_generator)
    : plan_(std::move(plan)), of_(of) {
  if (!with_generator) plan_.generator.reset();
  stated_ = prepare(plan_);
}

SizedPlans::SizedPlans(PreparedPlan tables) : of_(SizeOf::battery), stated_(std::move(tables)) {
  plan_.battery = stated_.battery;
}

double SizedPlans::stated_size() const {
  return of_ == SizeOf::battery ? plan_.battery.capacity_wh : rated_panels_w(plan_);
}

Plan SizedPlans::plan_of(double size) const {
  return of_ == SizeOf::battery ? with_battery_wh(plan_, size) : with_panels_w(plan_, size);
}

PreparedPlan SizedPlans::prepared(double size) const {
  return of_ == SizeOf::battery ? with_battery(stated_, plan_of(size).battery)
                                : prepare(plan_of(size));
}

std::uint64_t flat_stays(const PreparedPlan& plan, const Sky& sky, const SizeOptions& options) {
  const StayOutcomes outcomes = run_outcomes(plan, sky, options);
  return outcomes.has_generator() ? outcomes.count_along() : outcomes.count_home();
}

LeastSize least_size(const SizedPlans& plans, const Sky& sky, const SizeQuestion& question,
                     const SizeOptions& options, const Progress& progress) {
  PartsDone tried(progress, "sizes tried", 0);
  const auto count = [&](double size) {
    const std::uint64_t flat = flat_stays(plans.prepared(size), sky, options);
    tried.add();
    return flat;
  };
  const auto risk = [&](double size, std::uint64_t flat) {
    return SizeRisk{size, Proportion(flat, options.stays)};
  };
  const Interval bounds = bounds_of(question.of);
  SizeSearch search(sizes_to_try(bounds.low, bounds.high), count);
  const FlatTarget target = flat_target(question.accept_risk, options.stays);
  constexpr std::size_t kStep = 256, kFineStep = 16;

  LeastSize out;
  out.of = question.of;
  out.stated = risk(plans.stated_size(), flat_stays(plans.stated(), sky, options));
  auto least = search.least(target.allowed, search.index_of(plans.stated_size()), kStep);
  if (least && question.with_generator) {
    const auto lasting = search.lasting(target.allowed, *least);
    out.rises_again = lasting != least;
    least = lasting;
  }
  if (least) {
    out.least = risk(search.size(*least), search.count_at(*least));
    const auto low = search.least(target.most, *least, kFineStep);
    const auto high = target.fewest ? search.least(*target.fewest, *least, kFineStep)
                                    : std::optional<std::size_t>();
    // Where a larger size may be riskier, ends that were met below the answer say less than it.
    out.sampling = {std::min(out.least->size, search.size(low.value_or(*least))),
                    high ? std::max(out.least->size, search.size(*high)) : kInfinity};
  }
  for (const auto& [index, flat] : search.counts()) {
    out.curve.push_back(risk(search.size(index), flat));
  }
  out.largest = out.curve.back();
  add_to_curve(out.curve, out.stated);
  return out;
}

LeastSize least_size(const Plan& plan, const SizeQuestion& question, const SizeOptions& options,
                     const Progress& progress) {
  const SizedPlans plans(plan, question.of, question.with_generator);
  LeastSize out =
      least_size(plans, DrawnSky(plans.stated(), options.seed), question, options, progress);
  if (out.least) out.climate = climate_of(plans, question, options, out, progress);
  return out;
}

}  // namespace dullspell
