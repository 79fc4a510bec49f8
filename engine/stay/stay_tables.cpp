#include "engine/stay/stay_tables.hpp"

#include <algorithm>

namespace dullspell {
namespace {

// What loads can ask for in one hour, or somewhat more, W.
struct MostAsked {
  double dc_w = 0.0, ac_w = 0.0;
};

MostAsked always_asked(const PreparedPlan& plan) {
  MostAsked always;
  if (plan.furnace) always.dc_w += plan.furnace->model.blower_w;
  if (plan.fridge) {
    double& watts = plan.fridge->model.ac ? always.ac_w : always.dc_w;
    watts += plan.fridge->model.coldest_w;
    for (const FridgePiece& piece : plan.fridge->pieces) {
      watts += std::max(0.0, piece.w_per_k * piece.length_k);
    }
  }
  return always;
}

MostAsked most_asked_at(const PreparedPlan& plan, const MostAsked& always, std::size_t h) {
  MostAsked here{plan.hours[h].fixed_dc_w + always.dc_w, plan.hours[h].fixed_ac_w + always.ac_w};
  for (const FlexibleLoad& load : plan.flexible) {
    (load.ac ? here.ac_w : here.dc_w) += load.watts[h] * load.most[plan.hours[h].segment];
  }
  return here;
}

MostAsked most_asked(const PreparedPlan& plan) {
  const MostAsked always = always_asked(plan);
  MostAsked most;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    const MostAsked here = most_asked_at(plan, always, h);
    most = {std::max(most.dc_w, here.dc_w), std::max(most.ac_w, here.ac_w)};
  }
  return most;
}

}  // namespace

StayTables::StayTables(const PreparedPlan& plan) {
  tables_.hours = static_cast<int>(plan.hours.size());
  tables_.hour = plan.hours.data();
  tables_.controllers = static_cast<int>(plan.controller_limit_w.size());
  tables_.controller_limit_w = plan.controller_limit_w.data();
  take_segments(plan);
  take_loads(plan);
  take_cabin(plan);
  tables_.battery = battery_model(plan.battery);
  if (plan.inverter) tables_.inverter = inverter_model(*plan.inverter);
  if (plan.generator) tables_.generator = generator_model(*plan.generator);
  tables_.mains = mains_power(plan.hookup_charger_w);
  rule_out_what_cannot_be(plan);
}

void StayTables::take_segments(const PreparedPlan& plan) {
  for (const Segment& segment : plan.segments) {
    SegmentHours hours{segment.first_hour, segment.end_hour, 24, 0, segment.power.data()};
    for (int h = segment.first_hour; h < segment.end_hour; ++h) {
      const HourSlot& slot = plan.hours[static_cast<std::size_t>(h)];
      if (!slot.panels_lit) continue;
      hours.lit_from = std::min(hours.lit_from, slot.hour_of_day);
      hours.lit_to = slot.hour_of_day + 1;
    }
    segments_.push_back(hours);
  }
  tables_.segments = static_cast<int>(segments_.size());
  tables_.segment = segments_.data();
}

void StayTables::take_loads(const PreparedPlan& plan) {
  for (const FlexibleLoad& load : plan.flexible) {
    loads_.push_back({load.ac, load.optional_below.value_or(0.0) * plan.usable_wh()});
    tables_.optional_loads += load.optional_below.has_value();
  }
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    for (const FlexibleLoad& load : plan.flexible) load_w_.push_back(load.watts[h]);
  }
  tables_.loads = static_cast<int>(loads_.size());
  tables_.load = loads_.data();
  tables_.load_w = load_w_.data();
}

void StayTables::take_cabin(const PreparedPlan& plan) {
  if (plan.furnace) {
    tables_.furnace = plan.furnace->model;
    tables_.furnace.hold = plan.furnace->hold.data();
  }
  if (plan.fridge) {
    tables_.fridge = plan.fridge->model;
    tables_.fridge.piece = plan.fridge->pieces.data();
  }
  tables_.battery_outside = plan.battery.where == BatteryWhere::outside;
  tables_.powerless_differs = plan.furnace && !tables_.battery_outside;
}

void StayTables::rule_out_what_cannot_be(const PreparedPlan& plan) {
  const MostAsked most = most_asked(plan);
  double most_drawn_w = most.dc_w;
  if (plan.inverter) {
    tables_.inverter.may_overload = most.ac_w > plan.inverter->rated_w;
    most_drawn_w += plan.inverter->loss_w(most.ac_w) + most.ac_w;
  }
  tables_.battery.may_overdraw = most_drawn_w > plan.battery.discharge_limit_w;
}

double most_asked_wh(const PreparedPlan& plan) {
  const MostAsked always = always_asked(plan);
  double sum_wh = 0.0;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    const MostAsked here = most_asked_at(plan, always, h);
    sum_wh += here.dc_w + here.ac_w;
  }
  return sum_wh;
}

}  // namespace dullspell
