#pragma once

#include "engine/hour/stay_hour.hpp"

namespace dullspell {

/// What one hour asks for and brings, W averaged over the hour.
struct HourNeeds {
  double dc_w = 0.0;         ///< loads on the battery's side
  double ac_w = 0.0;         ///< loads behind the inverter
  double inverter_on = 0.0;  ///< share of the hour that the inverter idles or works
  double panels_w = 0.0;
  double vehicle_w = 0.0;
  double battery_c = 20.0;
};

/// Where every watt-hour of one hour went. In and out balance:
///   panels + vehicle + charger + from_battery
///     = served_dc + served_inverted + inverter_loss + to_battery + spilled
/// and the store changes by to_battery charge_efficiency - from_battery / discharge_efficiency -
/// self_discharge. Where the battery cannot give what is missing, what there is serves all loads
/// and losses pro rata; the hour is flat if the battery ran into its cut-off, rather than its
/// discharge limit.
struct HourFlow {
  double panels_wh = 0.0;
  double vehicle_wh = 0.0;
  double charger_wh = 0.0;  ///< taken from the charger
  double from_battery_wh = 0.0;
  double to_battery_wh = 0.0;
  double served_dc_wh = 0.0;
  double served_inverted_wh = 0.0;  ///< alternating-current loads from the battery's side
  double served_outside_wh = 0.0;   ///< alternating-current loads carried by outside power
  double inverter_loss_wh = 0.0;
  double spilled_wh = 0.0;    ///< panel and vehicle energy that found no place
  double shortfall_wh = 0.0;  ///< asked for and not served
  double self_discharge_wh = 0.0;
  double stored_before_wh = 0.0;
  double stored_after_wh = 0.0;
  double outside_share = 0.0;  ///< of the hour that outside power ran
  bool flat = false;
};

/// The needs in the form that the arithmetic of the hour takes.
Needs<double> needs_of(const BatteryModel& battery, const HourNeeds& needs);

/// What a battery with so much in it accepts at its terminals, W.
double accepted_w(const BatteryModel& battery, double stored_wh, double battery_c);

/// An hour with outside power for the share `x` of it, 0..1; rates are those of rates_of.
HourFlow flow_of(const HourTables& tables, const HourNeeds& needs, const Rates<double>& rates,
                 double x, double stored_wh);

}  // namespace dullspell
