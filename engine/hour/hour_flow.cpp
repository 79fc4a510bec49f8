#include "engine/hour/hour_flow.hpp"

#include <algorithm>

namespace dullspell {

Needs<double> needs_of(const BatteryModel& battery, const HourNeeds& needs) {
  return {needs.dc_w,      needs.ac_w,       needs.panels_w, cut_off_wh(battery, needs.battery_c),
          needs.vehicle_w, needs.inverter_on};
}

double accepted_w(const BatteryModel& battery, double stored_wh, double battery_c) {
  return acceptance_w<double>(battery, stored_wh, cold_acceptance_w(battery, battery_c));
}

HourFlow flow_of(const HourTables& tables, const HourNeeds& needs, const Rates<double>& rates,
                 double x, double stored_wh) {
  const HourOutcome<double> hour =
      hour_with_outside(tables, needs_of(tables.battery, needs), rates, x,
                        accepted_w(tables.battery, stored_wh, needs.battery_c), stored_wh);
  const BatteryHour<double>& battery = hour.battery;
  const Surplus<double> surplus = surplus_of(hour);
  const double served = served_share(battery.gap_wh, hour.draw_wh);

  HourFlow flow;
  flow.stored_before_wh = stored_wh;
  flow.stored_after_wh = battery.stored_after_wh;
  flow.self_discharge_wh = battery.before_loss_wh * (1.0 - tables.battery.kept_per_h);
  flow.outside_share = x;
  flow.flat = battery.flat;
  flow.panels_wh = needs.panels_w;
  flow.vehicle_wh = needs.vehicle_w;
  flow.charger_wh = hour.offered_wh - surplus.held_back_wh;
  flow.spilled_wh = surplus.spilled_wh;
  flow.to_battery_wh = std::max(0.0, battery.into_wh);
  // What is short by no more than rounding counts as served, from the battery.
  flow.from_battery_wh =
      std::max(0.0, served < 1.0 ? -battery.into_wh : -battery.into_wh - battery.gap_wh);
  flow.served_dc_wh = served * needs.dc_w;
  flow.served_inverted_wh = served * hour.from_battery_ac_w;
  flow.served_outside_wh = x * rates.carried_w;
  flow.inverter_loss_wh = served * (rates.idle_w + (1.0 - x) * rates.working_loss_w);
  flow.shortfall_wh = hour.unserved_ac_wh + (1.0 - served) * (needs.dc_w + hour.from_battery_ac_w);
  return flow;
}

}  // namespace dullspell
