#include "engine/decisions/no_size.hpp"

#include <algorithm>
#include <cmath>

#include "engine/stay/expected_stay.hpp"

namespace dullspell {
namespace {

// What the plan expects of a day: enough to see what stands in the way.
struct Expected {
  double taken_by_limit_wh = 0.0, surplus_wh = 0.0;
  double cold_surplus_wh = 0.0;   // while cells are too cold
  double longest_night_wh = 0.0;  // greatest draw between two suns
};

Expected expect(const PreparedPlan& plan) {
  const ExpectedStay stay(plan);
  Expected out;
  double night_wh = 0.0;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    const ExpectedHour hour = stay.usual(h);
    const double net_w = hour.panels_w + plan.hours[h].vehicle_w - hour.draw_w;
    if (net_w > 0.0) {
      out.surplus_wh += net_w;
      out.taken_by_limit_wh += std::max(0.0, net_w - plan.battery.charge_limit_w);
      if (hour.battery_c < plan.battery.charge_min_c) out.cold_surplus_wh += net_w;
      night_wh = 0.0;
    } else {
      night_wh -= net_w / plan.battery.discharge_efficiency;
      out.longest_night_wh = std::max(out.longest_night_wh, night_wh);
    }
  }
  return out;
}

}  // namespace

NoSize why_no_size(const SizedPlans& plans, const LeastSize& answer) {
  const PreparedPlan plan = plans.prepared(answer.largest.size);
  NoSize out{expected_budget(plan), {}};
  const Expected expected = expect(plan);
  const double coldest_cut_off = coldest_cut_off_share(plan);
  const auto add = [&](bool holds, NoSizeReason reason) {
    if (holds) out.reasons.push_back(reason);
  };
  constexpr double kMuch = 0.2, kHardlyAny = 0.05;
  const Budget& b = out.budget;
  add(b.panels_wh_per_day + b.vehicle_wh_per_day < b.draw_wh_per_day, NoSizeReason::balance);
  add(plan.battery.start_charge < kHardlyAny + coldest_cut_off, NoSizeReason::empty_at_first);
  add(coldest_cut_off > kMuch, NoSizeReason::cold_store);
  add(expected.cold_surplus_wh > kMuch * expected.surplus_wh, NoSizeReason::cold_charge);
  add(expected.taken_by_limit_wh > kMuch * expected.surplus_wh, NoSizeReason::charge_limit);
  add(answer.of == SizeOf::panels && share_cut_by_limits(plan, b) > kMuch,
      NoSizeReason::controllers);
  add(answer.of == SizeOf::panels && expected.longest_night_wh > plan.usable_wh(),
      NoSizeReason::night);
  if (out.reasons.empty()) out.reasons.push_back(NoSizeReason::dull_days);
  return out;
}

}  // namespace dullspell
