#include "engine/stay/expected_stay.hpp"

#include <algorithm>

#include "engine/hour/stay_hour.hpp"
#include "weather/temperature.hpp"

namespace dullspell {

ExpectedHour ExpectedStay::at(std::size_t hour, double k) const {
  const HourTables& tables = tables_.hours();
  const HourSlot& slot = plan_.hours[hour];
  const Segment& segment = plan_.segments[slot.segment];
  const double range_c =
      daily_range_c(segment.range_mean_c, segment.range_k_slope, k, segment.k_mean);
  const double air_c = segment.temp_mean_c + range_c * slot.temperature_swing;
  const Cabin<double> cabin = cabin_at(tables.furnace, slot.hour_of_day, air_c);

  ExpectedHour out{};
  out.battery_c = tables.battery_outside ? air_c : cabin.held_c;
  out.panels_w = panel_power_w(tables, slot, k, air_c);
  out.furnace_w = cabin.furnace_w;
  double dc_w = slot.fixed_dc_w + cabin.furnace_w;
  double ac_w = slot.fixed_ac_w;
  if (tables.fridge.present) {
    out.fridge_w =
        fridge_w(tables.fridge, cabin.held_c) * (tables.fridge.ac ? slot.inverter_on : 1.0);
    (tables.fridge.ac ? ac_w : dc_w) += out.fridge_w;
  }
  for (const FlexibleLoad& load : plan_.flexible) {
    (load.ac ? ac_w : dc_w) += load.watts[hour] * use_on_day(load, slot.segment, 1.0, k);
  }
  if (plan_.inverter) {
    ac_w = std::min(ac_w, plan_.inverter->rated_w);
    out.inverter_loss_w =
        plan_.inverter->loss_w(ac_w) - plan_.inverter->standby_w * (1.0 - slot.inverter_on);
  }
  out.draw_w = dc_w + ac_w + out.inverter_loss_w;
  return out;
}

ExpectedHour ExpectedStay::usual(std::size_t hour) const {
  return at(hour, plan_.segments[plan_.hours[hour].segment].k_mean);
}

double greatest_draw_w(const PreparedPlan& plan) {
  const ExpectedStay stay(plan);
  double most_w = 0.0;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    most_w = std::max(most_w, stay.usual(h).draw_w);
  }
  return most_w;
}

double coldest_cut_off_share(const PreparedPlan& plan) {
  const ExpectedStay stay(plan);
  const BatteryModel battery = battery_model(plan.battery);
  double share = 0.0;
  for (std::size_t h = 0; h < plan.hours.size(); ++h) {
    share = std::max(share, cut_off_wh(battery, stay.usual(h).battery_c) / battery.usable_wh);
  }
  return share;
}

double panel_power_w(const HourTables& tables, const HourSlot& slot, double k, double air_c) {
  if (!slot.panels_lit) return 0.0;
  const PowerTable* power = tables.segment[slot.segment.value].power;
  const double position = std::clamp(k, 0.0, 1.0) * kNodesPerUnit;
  const int node = std::min(static_cast<int>(position), kClearnessNodes - 2);
  const double weight = position - node;
  const int h = slot.hour_of_day;
  double sum_w = 0.0;
  for (int c = 0; c < tables.controllers; ++c) {
    const PowerTable& table = power[c];
    const double at_25 =
        table.at_25(node, h) + weight * (table.at_25(node + 1, h) - table.at_25(node, h));
    const double per_k =
        table.per_k(node, h) + weight * (table.per_k(node + 1, h) - table.per_k(node, h));
    sum_w += controller_power_w(at_25, per_k, air_c, tables.controller_limit_w[c]);
  }
  return sum_w * slot.at_camp;
}

}  // namespace dullspell
