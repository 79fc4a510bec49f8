#include "engine/plan/plan_edit.hpp"

#include <algorithm>
#include <numeric>
#include <variant>

#include "engine/plan/plan_clock.hpp"
#include "weather/angles.hpp"

namespace dullspell {

namespace {

void scale_limits(Battery& battery, double ratio) {
  if (battery.charge_limit_follows) battery.charge_limit_w *= ratio;
  if (battery.discharge_limit_follows) battery.discharge_limit_w *= ratio;
}

}  // namespace

Plan with_battery_wh(Plan plan, double capacity_wh) {
  scale_limits(plan.battery, capacity_wh / plan.battery.capacity_wh);
  plan.battery.capacity_wh = capacity_wh;
  return plan;
}

Plan with_battery_health(Plan plan, double health) {
  scale_limits(plan.battery, health / plan.battery.health);
  plan.battery.health = health;
  return plan;
}

double rated_panels_w(const Plan& plan) {
  return std::accumulate(plan.panels.begin(), plan.panels.end(), 0.0,
                         [](double sum, const PanelGroup& group) { return sum + group.rated_w; });
}

bool lies_flat(const PanelGroup& group) {
  const auto* plane = std::get_if<PlaneDirection>(&group.mount);
  return plane && plane->tilt_deg == 0.0;
}

Plan with_panels_w(Plan plan, double total_w) {
  const double ratio = total_w / rated_panels_w(plan);
  for (PanelGroup& group : plan.panels) group.rated_w *= ratio;
  return plan;
}

Plan with_option(Plan plan, const KitOption& option) {
  if (option.battery_wh) plan = with_battery_wh(std::move(plan), *option.battery_wh);
  if (option.panels_w) plan = with_panels_w(std::move(plan), *option.panels_w);
  return plan;
}

Plan arriving_on(Plan plan, Date arrive) {
  plan.arrive = arrive;
  set_clock(plan);
  return plan;
}

Plan at_place(Plan plan, const Place& place) {
  for (Camp& camp : plan.camps) {
    camp.place = place;
    camp.where = place.where;
    camp.elevation_m.reset();
    camp.temp_mean_c.reset();
    camp.utc_offset_stated = false;
  }
  set_clock(plan);
  return plan;
}

Plan mirrored_panels(Plan plan) {
  for (PanelGroup& group : plan.panels) {
    if (auto* plane = std::get_if<PlaneDirection>(&group.mount)) {
      plane->azimuth_deg = wrap_to_360_deg(180.0 - plane->azimuth_deg);
    }
  }
  return plan;
}

Plan without_load(Plan plan, std::size_t load) {
  plan.loads.erase(plan.loads.begin() + static_cast<std::ptrdiff_t>(load));
  return plan;
}

Plan without_fridge(Plan plan) {
  plan.fridge.reset();
  return plan;
}

Plan with_load_halved(Plan plan, std::size_t load) {
  Load& halved = plan.loads[load];
  if (!halved.hours_stated && (halved.only || halved.hours_per_day >= 24.0)) {
    halved.watts *= 0.5;
  } else {
    halved.hours_per_day *= 0.5;
    halved.hours_stated = true;
  }
  return plan;
}

Plan with_flat_panels_at(Plan plan, const PlaneDirection& plane) {
  for (PanelGroup& group : plan.panels) {
    if (lies_flat(group)) group.mount = plane;
  }
  return plan;
}

Plan with_fixed_panels_aimed(Plan plan, const AimedMount& aimed) {
  for (PanelGroup& group : plan.panels) {
    if (!std::holds_alternative<AimedMount>(group.mount)) group.mount = aimed;
  }
  return plan;
}

Plan with_canopy(Plan plan, std::size_t camp, double canopy) {
  plan.camps[camp].canopy = canopy;
  return plan;
}

Plan in_the_open(Plan plan) {
  for (Camp& camp : plan.camps) {
    camp.canopy = 0.0;
    camp.skyline.clear();
  }
  return plan;
}

Plan with_furnace_warmer(Plan plan, double by_k) {
  for (HoldWindow& hold : plan.furnace->hold) hold.set_point_c += by_k;
  return plan;
}

Plan with_inverter_off(Plan plan, const ClockWindow& off) {
  plan.inverter->on = windows_without(plan.inverter->on, {off});
  return plan;
}

Plan one_night_shorter(Plan plan) {
  if (--plan.camps.back().nights == 0) plan.camps.pop_back();
  const int last = plan.nights();
  std::erase_if(plan.forecast, [=](const ForecastDay& day) { return day.day > last; });
  return plan;
}

Plan with_generator(Plan plan, const Generator& generator) {
  plan.generator = generator;
  if (plan.hookup_charger_w <= 0.0) plan.hookup_charger_w = generator.charger_w;
  return plan;
}

}  // namespace dullspell
