#pragma once

#include "engine/plan.hpp"

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

/// Power from outside while it runs: a generator or the mains.
struct OutsidePower {
  double charger_w = 0.0;          ///< into the direct-current side
  double ac_limit_w = kNoLimit_w;  ///< for loads and charger together, before the charger's loss
  double charger_efficiency = 1.0;
  bool carries_dc = false;  ///< the mains charger carries direct-current loads on top
};

/// Where every watt-hour of one hour went. In and out balance:
///   panels + vehicle + charger + from_battery
///     = served_dc + served_inverted + inverter_loss + to_battery + spilled
/// and the store changes by to_battery charge_efficiency - from_battery / discharge_efficiency -
/// self_discharge.
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

/// A shortage below this is rounding, not a flat battery.
constexpr double kServed_wh = 1e-6;

/// So far above `charge_min_c` the cold holds a charge back.
constexpr double kColdCharge_k = 5.0;

/// Charge that the battery accepts at its terminals, W: the stated limit, falling linearly from
/// `taper_from` to `taper_to_c` at full; nothing below `charge_min_c`, and 0.1 to 0.2 of the
/// capacity per hour within kColdCharge_k above it.
double charge_acceptance_w(const Battery& battery, double stored_wh, double battery_c);

/// Stored energy at which the battery cuts off: what the cold withholds of the usable energy.
double cut_off_wh(const Battery& battery, double battery_c);

/// One hour of a battery with `stored_wh` in it, outside power running for `outside_share` of it.
/// `inverter` may be null if ac_w is zero.
///
/// Sources serve the loads first; a surplus charges within the battery's acceptance and room, a
/// deficit discharges within its limit down to the cut-off. When that does not suffice, what there
/// is serves all loads and losses pro rata and the rest is shortfall; the hour is flat if the
/// battery ran into its cut-off (rather than its discharge limit).
HourFlow step_hour(const Battery& battery, const Inverter* inverter, const HourNeeds& needs,
                   const OutsidePower& outside, double outside_share, double stored_wh);

/// Least stored energy from which an hour with outside power for `outside_share` of it is not flat
/// and ends with `target_wh` or more: exact below the taper, there at most a 4096th of it too much.
/// A full battery, or a little more, where nothing suffices.
double least_stored_wh(const Battery& battery, const Inverter* inverter, const HourNeeds& needs,
                       const OutsidePower& outside, double outside_share, double target_wh);

/// Halvings of the search in the taper.
constexpr int kTaperHalvings = 12;

/// Share of the hour (0..allowed) that outside power must run so that the hour ends with
/// `target_wh` stored; `allowed` if even that is not enough.
double share_to_reach(const Battery& battery, const Inverter* inverter, const HourNeeds& needs,
                      const OutsidePower& outside, double allowed, double stored_wh,
                      double target_wh);

}  // namespace dullspell
