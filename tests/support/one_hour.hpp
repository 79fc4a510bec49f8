#pragma once

#include "engine/hour/hour_flow.hpp"
#include "engine/kit/battery.hpp"
#include "engine/kit/inverter.hpp"

namespace dullspell {

/// The arithmetic of one hour for a battery and an inverter of a plan, without a stay around it.
inline HourTables tables_of(const Battery& battery, const Inverter* inverter) {
  HourTables tables;
  tables.battery = battery_model(battery);
  if (inverter) tables.inverter = inverter_model(*inverter);
  return tables;
}

inline double charge_acceptance_w(const Battery& battery, double stored_wh, double battery_c) {
  return accepted_w(battery_model(battery), stored_wh, battery_c);
}

inline double cut_off_wh(const Battery& battery, double battery_c) {
  return cut_off_wh(battery_model(battery), battery_c);
}

inline HourFlow step_hour(const Battery& battery, const Inverter* inverter, const HourNeeds& needs,
                          const OutsidePower& outside, double x, double stored_wh) {
  const HourTables tables = tables_of(battery, inverter);
  const Rates<double> rates = rates_of(tables.inverter, needs_of(tables.battery, needs), outside,
                                       charge_acceptance_w(battery, stored_wh, needs.battery_c));
  return flow_of(tables, needs, rates, x, stored_wh);
}

inline double least_stored_wh(const Battery& battery, const Inverter* inverter,
                              const HourNeeds& needs, const OutsidePower& outside, double x,
                              double target_wh) {
  const HourTables tables = tables_of(battery, inverter);
  return least_stored_wh(tables.battery, tables.inverter, needs_of(tables.battery, needs), outside,
                         x, cold_acceptance_w(tables.battery, needs.battery_c), target_wh);
}

inline double share_to_reach(const Battery& battery, const Inverter* inverter,
                             const HourNeeds& needs, const OutsidePower& outside, double allowed,
                             double stored_wh, double target_wh) {
  const HourTables tables = tables_of(battery, inverter);
  const Needs<double> asked = needs_of(tables.battery, needs);
  const Rates<double> rates = rates_of(tables.inverter, asked, outside,
                                       charge_acceptance_w(battery, stored_wh, needs.battery_c));
  return share_to_reach(tables.battery, asked, rates, allowed, stored_wh, target_wh);
}

}  // namespace dullspell
