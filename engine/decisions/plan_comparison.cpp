#include "engine/decisions/plan_comparison.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "engine/decisions/flat_by_climate.hpp"
#include "engine/study/climate_interval.hpp"
#include "engine/study/prepare.hpp"

namespace dullspell {

std::vector<ComparedPlan> compare_plans(std::vector<Plan> plans, const StudyOptions& options,
                                        const Progress& progress) {
  std::vector<ComparedPlan> out;
  for (Plan& plan : plans) {
    const std::string what = fmt::format("stays of plan {} of {}", out.size() + 1, plans.size());
    PreparedPlan prepared = prepare(plan);
    Study study = run_whole_study(prepared, options, Keep::outcomes, [&](WorkDone work) {
      if (!progress) return;
      if (work.flat_stays) work.what = what;
      progress(work);
    });
    Budget budget = expected_budget(prepared);
    FlatByClimate climates = flat_by_climate(study.climates);
    std::vector<double> planned = plan.generator ? std::move(climates.along) : climates.home;
    out.push_back({std::move(plan), std::move(prepared), std::move(study.result), std::move(budget),
                   std::move(study.outcomes), std::move(climates.home), std::move(planned)});
  }
  return out;
}

PlanDifference plan_difference(const StayOutcomes& first, const StayOutcomes& second) {
  PlanDifference out;
  out.home = paired_difference(first.flat_home, second.flat_home, first.stays);
  if (first.has_generator() || second.has_generator()) {
    out.planned = paired_difference(first.flat_as_planned(), second.flat_as_planned(), first.stays);
  }
  if (first.has_generator() && second.has_generator()) {
    out.generator_h = mean_difference(first.generator_h, second.generator_h);
  }
  return out;
}

bool same_dates(const PreparedPlan& a, const PreparedPlan& b) {
  return a.dates.front() == b.dates.front() &&
         a.hours.front().hour_of_day == b.hours.front().hour_of_day;
}

bool same_places(const Plan& a, const Plan& b) {
  const auto nights = [](const Plan& plan) {
    std::vector<const Camp*> out;
    for (const Camp& camp : plan.camps) {
      out.insert(out.end(), static_cast<std::size_t>(camp.nights), &camp);
    }
    return out;
  };
  const auto of_a = nights(a), of_b = nights(b);
  return std::equal(of_a.begin(), of_a.begin() + std::min(of_a.size(), of_b.size()), of_b.begin(),
                    [](const Camp* x, const Camp* y) {
                      return x->where == y->where && x->place.id == y->place.id &&
                             x->place.name == y->place.name;
                    });
}

std::optional<DifferenceClimate> difference_climate(const ComparedPlan& first,
                                                    const ComparedPlan& second) {
  if (!same_dates(first.prepared, second.prepared) || !same_places(first.plan, second.plan)) {
    return std::nullopt;
  }
  const PlanDifference difference = plan_difference(first.outcomes, second.outcomes);
  const auto interval = [](const PairedDifference& d, const std::vector<double>& a,
                           const std::vector<double>& b) {
    std::vector<double> values;
    for (std::size_t i = 0; i < a.size(); ++i) values.push_back(b[i] - a[i]);
    return climate_interval(d.difference, d.interval, values);
  };
  return DifferenceClimate{interval(difference.home, first.climates_home, second.climates_home),
                           interval(difference.planned.value_or(difference.home),
                                    first.climates_planned, second.climates_planned)};
}

std::optional<double> stays_to_tell(const PairedDifference& difference, std::uint64_t stays) {
  constexpr double kChanceDeviate = 0.8416;  // standard normal, 80 % below it
  const double d = difference.difference;
  if (difference.only_first == difference.only_second) return std::nullopt;
  const double differing = static_cast<double>(difference.only_first + difference.only_second) /
                           static_cast<double>(stays);
  const double root = ConfidenceLevel{}.deviate() * std::sqrt(differing) +
                      kChanceDeviate * std::sqrt(differing - d * d);
  return root * root / (d * d);
}

}  // namespace dullspell
