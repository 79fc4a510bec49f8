#include "engine/plan_edit.hpp"

#include <numeric>
#include <variant>

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
  return plan;
}

Plan at_place(Plan plan, const Place& place) {
  for (Camp& camp : plan.camps) {
    camp.place = place;
    camp.where = place.where;
    camp.distance_km = 0.0;
    camp.elevation_m.reset();
    camp.temp_mean_c.reset();
  }
  plan.clock_offset_h = place.utc_offset_h + (plan.summer_time ? 1.0 : 0.0);
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

}  // namespace dullspell
