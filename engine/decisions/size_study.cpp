#include "engine/decisions/size_study.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/decisions/size_search.hpp"
#include "engine/plan/plan_edit.hpp"
#include "engine/stay/sky.hpp"

namespace dullspell {
namespace {

// Common sizes around the answer, Wh or W.
std::vector<double> common_sizes(SizeOf of, double least, double nominal_v) {
  const double unit = of == SizeOf::battery ? nominal_v : 1.0;  // Ah, or W
  const double low = of == SizeOf::battery ? kLeastBattery_wh : kLeastPanels_w;
  const double high = of == SizeOf::battery ? kMostBattery_wh : kMostPanels_w;
  const double step = common_step(least / unit) * unit;
  const double next = std::ceil(least / step - 1e-9);
  std::vector<double> out;
  for (double multiple = next - 2.0; multiple <= next + 2.0; ++multiple) {
    const double size = multiple * step;
    if (size >= low && size <= high) out.push_back(size);
  }
  return out;
}

SizeRow row_of(const SizedPlans& plans, SizeRow::Kind kind, const SizeRisk& risk) {
  const Budget budget = expected_budget(plans.prepared(risk.size));
  return {kind, risk, budget.days_of_autonomy, budget.panels_wh_per_day, budget.draw_wh_per_day};
}

void add_rows(const SizedPlans& plans, const SizeOptions& options, SizeStudy& study) {
  const DrawnSky sky(plans.stated(), options.seed);
  const SizeRisk& least = *study.answer.least;
  study.rows.push_back(row_of(plans, SizeRow::Kind::least, least));
  if (study.answer.stated.size != least.size) {
    study.rows.push_back(row_of(plans, SizeRow::Kind::stated, study.answer.stated));
  }
  for (const double size : common_sizes(study.question.of, least.size, study.nominal_v())) {
    const SizeRisk risk{size,
                        Proportion(flat_stays(plans.prepared(size), sky, options), options.stays)};
    add_to_curve(study.answer.curve, risk);
    const bool enough = size >= least.size && risk.flat.count <= study.allowed;
    if (enough && !study.next_common) study.next_common = risk;
    if (size == study.answer.stated.size || size == least.size) continue;
    study.rows.push_back(row_of(plans, SizeRow::Kind::common, risk));
  }
  std::sort(study.rows.begin(), study.rows.end(),
            [](const SizeRow& a, const SizeRow& b) { return a.risk.size < b.risk.size; });
}

std::vector<FrontierPoint> frontier_of(const Plan& plan, const SizeQuestion& question,
                                       const SizeOptions& options, const LeastSize& as_planned,
                                       const Progress& progress) {
  const double stated_w = rated_panels_w(plan);
  std::vector<FrontierPoint> out;
  constexpr std::array kRatios{0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 3.0};
  PartsDone done(progress, "sizes of panels", kRatios.size());
  for (const double ratio : kRatios) {
    const double panels_w = ratio == 1.0 ? stated_w : std::round(ratio * stated_w / 10.0) * 10.0;
    if (panels_w < kLeastPanels_w || (panels_w > kMostPanels_w && ratio > 1.0)) continue;
    const Plan kit = ratio == 1.0 ? plan : with_panels_w(plan, panels_w);
    FrontierPoint point{panels_w, ratio == 1.0 ? as_planned : least_size(kit, question, options),
                        0.0};
    if (point.battery.least) {
      point.days_of_autonomy =
          expected_budget(prepare_stay(with_battery_wh(kit, point.battery.least->size)))
              .days_of_autonomy;
    }
    out.push_back(std::move(point));
    done.add();
  }
  return out;
}

}  // namespace

double common_step(double size) {
  return size < 100.0 ? 10.0 : size < 2'000.0 ? 100.0 : size < 10'000.0 ? 500.0 : 1'000.0;
}

SizeStudy study_size(const Plan& plan, const SizeQuestion& question, const SizeOptions& options,
                     bool with_frontier, const Progress& progress) {
  SizeStudy study;
  study.question = question;
  study.run = options;
  study.allowed = flat_target(question.accept_risk, options.stays).allowed;
  study.answer = least_size(plan, question, options, progress);
  const SizedPlans plans(plan, question.of, question.with_generator);
  const SizeRisk& shown = study.answer.least ? *study.answer.least : study.answer.largest;
  study.plan = plans.plan_of(shown.size);
  study.prepared = plans.prepared(shown.size);
  study.budget = expected_budget(study.prepared);
  if (study.answer.least) {
    add_rows(plans, options, study);
  } else {
    study.no_size = why_no_size(plans, study.answer);
  }
  if (with_frontier) {
    study.frontier = frontier_of(plan, question, options, study.answer, progress);
  }
  study.options = judge_options(plan, question, options, progress);
  return study;
}

}  // namespace dullspell
