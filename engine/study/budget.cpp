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

// What the hours of a stay add up to, Wh.
class BudgetSums {
 public:
  explicit BudgetSums(const PreparedPlan& plan)
      : plan_(plan), stay_(plan), fixed_wh_(plan.fixed.size()), flexible_wh_(plan.flexible.size()) {
    for (std::size_t h = 0; h < plan.hours.size(); ++h) add_hour(h);
  }

  Budget budget() && {
    const double days = static_cast<double>(plan_.hours.size()) / 24.0;
    add_lines(days);
    add_forecast();
    for (CampBalance& camp : budget_.camps) {
      camp.draw_wh_per_day /= camp.days;
      camp.panels_wh_per_day /= camp.days;
      camp.vehicle_wh_per_day /= camp.days;
    }
    budget_.panels_wh_per_day /= days;
    budget_.panels_dull_wh_per_day /= days;
    budget_.panels_clear_wh_per_day /= days;
    budget_.vehicle_wh_per_day /= days;
    budget_.usable_wh = plan_.usable_wh() * plan_.battery.discharge_efficiency;
    const double at_terminals = budget_.draw_wh_per_day - battery_loss_wh_ / days;
    budget_.days_of_autonomy = at_terminals > 0.0 ? budget_.usable_wh / at_terminals : 0.0;
    return std::move(budget_);
  }

 private:
  void add_hour(std::size_t h) {
    const HourSlot& slot = plan_.hours[h];
    const Segment& segment = plan_.segments[slot.segment];
    if (budget_.camps.empty() || budget_.camps.back().camp != segment.camp) {
      budget_.camps.push_back({segment.camp});
    }
    CampBalance& camp = budget_.camps.back();
    camp.days += 1.0 / 24.0;
    camp.vehicle_wh_per_day += slot.vehicle_w;
    budget_.vehicle_wh_per_day += slot.vehicle_w;
    for (std::size_t i = 0; i < plan_.fixed.size(); ++i) {
      split(plan_.fixed[i], plan_.fixed[i].watts[h], fixed_wh_[i]);
    }
    const double idle_w = plan_.inverter ? plan_.inverter->standby_w * slot.inverter_on : 0.0;
    standby_wh_ += idle_w;
    budget_.panels_dull_wh_per_day += stay_.at(h, segment.k_of_chi(dull_)).panels_w;
    budget_.panels_clear_wh_per_day += stay_.at(h, segment.k_of_chi(clear_)).panels_w;
    for (const double chi : deviates_) add_sky(h, segment.k_of_chi(chi), idle_w, camp);
  }

  // One of the equally likely days.
  void add_sky(std::size_t h, double k, double idle_w, CampBalance& camp) {
    const ExpectedHour hour = stay_.at(h, k);
    for (std::size_t i = 0; i < plan_.flexible.size(); ++i) {
      const FlexibleLoad& load = plan_.flexible[i];
      split(load, load.watts[h] * use_on_day(load, plan_.hours[h].segment, 1.0, k) / kSkies,
            flexible_wh_[i]);
    }
    furnace_wh_ += hour.furnace_w / kSkies;
    fridge_wh_ += hour.fridge_w / kSkies;
    conversion_wh_ += (hour.inverter_loss_w - idle_w) / kSkies;
    budget_.panels_wh_per_day += hour.panels_w / kSkies;
    const double from_battery_w =
        std::max(0.0, hour.draw_w - hour.panels_w - plan_.hours[h].vehicle_w);
    const double lost_w = from_battery_w * (1.0 / round_trip_ - 1.0);
    battery_loss_wh_ += lost_w / kSkies;
    camp.draw_wh_per_day += (hour.draw_w + lost_w) / kSkies;
    camp.panels_wh_per_day += hour.panels_w / kSkies;
  }

  // What a converter behind the inverter loses is a line of its own.
  void split(const FlexibleLoad& load, double watts, double& own_wh) {
    own_wh += watts * (1.0 - load.converter_loss);
    converter_wh_ += watts * load.converter_loss;
  }

  void add_forecast() {
    for (const KnownDate& known : plan_.known) {
      if (known.day < 0) continue;
      ForecastBalance& day = budget_.forecast.emplace_back();
      day.date = known.date;
      for (std::size_t h = 0; h < plan_.hours.size(); ++h) {
        if (plan_.hours[h].day != known.day) continue;
        const double vehicle_w = plan_.hours[h].vehicle_w;
        const ExpectedHour hour = stay_.at(h, known.stated.k);
        const double from_battery_w = std::max(0.0, hour.draw_w - hour.panels_w - vehicle_w);
        day.draw_wh += hour.draw_w + from_battery_w * (1.0 / round_trip_ - 1.0);
        day.panels_wh += hour.panels_w;
        day.panels_low_wh +=
            stay_.at(h, std::max(0.0, known.stated.k - known.stated.k_spread)).panels_w;
        day.panels_high_wh += stay_.at(h, known.stated.k + known.stated.k_spread).panels_w;
        day.vehicle_wh += vehicle_w;
      }
    }
  }

  void add_lines(double days) {
    const auto line = [&](std::string name, BudgetLine::Kind kind, double wh) {
      if (wh > 0.0) budget_.lines.push_back({std::move(name), kind, wh / days});
    };
    for (std::size_t i = 0; i < plan_.fixed.size(); ++i) {
      line(plan_.fixed[i].name, BudgetLine::Kind::load, fixed_wh_[i]);
    }
    for (std::size_t i = 0; i < plan_.flexible.size(); ++i) {
      line(plan_.flexible[i].name, BudgetLine::Kind::load, flexible_wh_[i]);
    }
    line("furnace blower", BudgetLine::Kind::furnace, furnace_wh_);
    line("fridge", BudgetLine::Kind::fridge, fridge_wh_);
    line("inverter standby", BudgetLine::Kind::standby, standby_wh_);
    line("inverter conversion", BudgetLine::Kind::loss, conversion_wh_);
    line("converter losses", BudgetLine::Kind::loss, converter_wh_);
    line("battery losses", BudgetLine::Kind::loss, battery_loss_wh_);
    std::stable_sort(budget_.lines.begin(), budget_.lines.end(),
                     [](const auto& a, const auto& b) { return a.wh_per_day > b.wh_per_day; });
    for (const auto& l : budget_.lines) budget_.draw_wh_per_day += l.wh_per_day;
  }

  const PreparedPlan& plan_;
  ExpectedStay stay_;
  std::array<double, kSkies> deviates_ = equally_likely_deviates();
  double dull_ = standard_normal_quantile(0.1), clear_ = standard_normal_quantile(0.9);
  double round_trip_ = plan_.battery.charge_efficiency * plan_.battery.discharge_efficiency;
  std::vector<double> fixed_wh_, flexible_wh_;
  double furnace_wh_ = 0.0, fridge_wh_ = 0.0, standby_wh_ = 0.0, conversion_wh_ = 0.0;
  double converter_wh_ = 0.0, battery_loss_wh_ = 0.0;
  Budget budget_;
};

}  // namespace

Budget expected_budget(const PreparedPlan& plan) {
  return BudgetSums(plan).budget();
}

Budget budget_with_shade(const Plan& plan, const PreparedPlan& prepared) {
  Budget budget = expected_budget(prepared);
  const bool shaded = std::any_of(plan.camps.begin(), plan.camps.end(), [](const Camp& camp) {
    return camp.canopy > 0.0 || !camp.skyline.empty();
  });
  if (!shaded || plan.panels.empty()) return budget;
  const Budget open = expected_budget(prepare_stay(in_the_open(plan)));
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
