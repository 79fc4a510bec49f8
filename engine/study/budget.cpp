#include "engine/study/budget.hpp"

#include <algorithm>
#include <array>

#include "engine/plan/plan_edit.hpp"
#include "engine/stay/expected_stay.hpp"
#include "weather/clearness_table.hpp"

namespace dullspell {
namespace {

constexpr int kSkies = 40;  // equally likely days

std::array<double, kSkies> equally_likely_deviates() {
  std::array<double, kSkies> out{};
  for (int i = 0; i < kSkies; ++i) {
    out[static_cast<std::size_t>(i)] = standard_normal_quantile((i + 0.5) / kSkies);
  }
  return out;
}

}  // namespace

Budget expected_budget(const PreparedPlan& plan) {
  const ExpectedStay stay(plan);
  const auto deviates = equally_likely_deviates();
  const double dull = standard_normal_quantile(0.1), clear = standard_normal_quantile(0.9);
  const Battery& battery = plan.battery;
  const double round_trip = battery.charge_efficiency * battery.discharge_efficiency;

  std::vector<double> fixed_wh(plan.fixed.size()), flexible_wh(plan.flexible.size());
  double furnace_wh = 0.0, fridge_wh = 0.0, standby_wh = 0.0, conversion_wh = 0.0;
  double converter_wh = 0.0, battery_loss_wh = 0.0;
  Budget budget;
  const auto split = [&](const FlexibleLoad& load, double watts, double& own_wh) {
    own_wh += watts * (1.0 - load.converter_loss);
    converter_wh += watts * load.converter_loss;
  };
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    const HourSlot& slot = plan.hours[h];
    const Segment& segment = plan.segments[slot.segment];
    if (budget.camps.empty() || budget.camps.back().camp != segment.camp) {
      budget.camps.push_back({segment.camp});
    }
    CampBalance& camp = budget.camps.back();
    camp.days += 1.0 / 24.0;
    camp.vehicle_wh_per_day += slot.vehicle_w;
    for (std::size_t i = 0; i < plan.fixed.size(); ++i) {
      split(plan.fixed[i], plan.fixed[i].watts[h], fixed_wh[i]);
    }
    const double idle_w = plan.inverter ? plan.inverter->standby_w * slot.inverter_on : 0.0;
    standby_wh += idle_w;
    budget.vehicle_wh_per_day += slot.vehicle_w;
    budget.panels_dull_wh_per_day += stay.at(h, segment.k_of_chi(dull)).panels_w;
    budget.panels_clear_wh_per_day += stay.at(h, segment.k_of_chi(clear)).panels_w;
    for (const double chi : deviates) {
      const double k = segment.k_of_chi(chi);
      const ExpectedHour hour = stay.at(h, k);
      for (std::size_t i = 0; i < plan.flexible.size(); ++i) {
        const FlexibleLoad& load = plan.flexible[i];
        split(load, load.watts[h] * use_on_day(load, 1.0, k) / kSkies, flexible_wh[i]);
      }
      furnace_wh += hour.furnace_w / kSkies;
      fridge_wh += hour.fridge_w / kSkies;
      conversion_wh += (hour.inverter_loss_w - idle_w) / kSkies;
      budget.panels_wh_per_day += hour.panels_w / kSkies;
      const double from_battery_w = std::max(0.0, hour.draw_w - hour.panels_w - slot.vehicle_w);
      const double lost_w = from_battery_w * (1.0 / round_trip - 1.0);
      battery_loss_wh += lost_w / kSkies;
      camp.draw_wh_per_day += (hour.draw_w + lost_w) / kSkies;
      camp.panels_wh_per_day += hour.panels_w / kSkies;
    }
  }

  const double days = static_cast<double>(plan.hours.size()) / 24.0;
  const auto line = [&](std::string name, BudgetLine::Kind kind, double wh) {
    if (wh > 0.0) budget.lines.push_back({std::move(name), kind, wh / days});
  };
  for (std::size_t i = 0; i < plan.fixed.size(); ++i) {
    line(plan.fixed[i].name, BudgetLine::Kind::load, fixed_wh[i]);
  }
  for (std::size_t i = 0; i < plan.flexible.size(); ++i) {
    line(plan.flexible[i].name, BudgetLine::Kind::load, flexible_wh[i]);
  }
  line("furnace blower", BudgetLine::Kind::furnace, furnace_wh);
  line("fridge", BudgetLine::Kind::fridge, fridge_wh);
  line("inverter standby", BudgetLine::Kind::loss, standby_wh);
  line("inverter conversion", BudgetLine::Kind::loss, conversion_wh);
  line("converter losses", BudgetLine::Kind::loss, converter_wh);
  line("battery losses", BudgetLine::Kind::loss, battery_loss_wh);
  std::stable_sort(budget.lines.begin(), budget.lines.end(),
                   [](const auto& a, const auto& b) { return a.wh_per_day > b.wh_per_day; });
  for (const auto& l : budget.lines) budget.draw_wh_per_day += l.wh_per_day;

  for (CampBalance& camp : budget.camps) {
    camp.draw_wh_per_day /= camp.days;
    camp.panels_wh_per_day /= camp.days;
    camp.vehicle_wh_per_day /= camp.days;
  }
  budget.panels_wh_per_day /= days;
  budget.panels_dull_wh_per_day /= days;
  budget.panels_clear_wh_per_day /= days;
  budget.vehicle_wh_per_day /= days;
  budget.usable_wh = plan.usable_wh() * battery.discharge_efficiency;
  const double at_terminals = budget.draw_wh_per_day - battery_loss_wh / days;
  budget.days_of_autonomy = at_terminals > 0.0 ? budget.usable_wh / at_terminals : 0.0;
  return budget;
}

Budget budget_with_shade(const Plan& plan, const PreparedPlan& prepared) {
  Budget budget = expected_budget(prepared);
  const bool shaded = std::any_of(plan.camps.begin(), plan.camps.end(), [](const Camp& camp) {
    return camp.canopy > 0.0 || !camp.skyline.empty();
  });
  if (!shaded || plan.panels.empty()) return budget;
  const Budget open = expected_budget(prepare(in_the_open(plan)));
  budget.shade_wh_per_day = std::max(0.0, open.panels_wh_per_day - budget.panels_wh_per_day);
  return budget;
}

double share_cut_by_limits(const PreparedPlan& plan, const Budget& budget) {
  PreparedPlan unlimited = plan;
  for (double& limit_w : unlimited.controller_limit_w) limit_w = kNoLimit_w;
  const double whole_wh = expected_budget(unlimited).panels_wh_per_day;
  return whole_wh > 0.0 ? 1.0 - budget.panels_wh_per_day / whole_wh : 0.0;
}

}  // namespace dullspell
