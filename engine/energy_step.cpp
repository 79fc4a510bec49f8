#include "engine/energy_step.hpp"

#include <algorithm>
#include <cmath>

#include "engine/chemistry.hpp"

namespace dullspell {
namespace {

// The hour's rates that are linear in the share x of the hour that outside power runs.
struct Rates {
  double inverted_w;      // alternating-current loads that are asked for, within the rating
  double overload_w;      // what the inverter's rating leaves out
  double idle_w;          // inverter standby
  double working_loss_w;  // inverter loss beyond standby, while it carries the loads
  double carried_w;       // alternating-current loads that outside power carries
  double charger_w;       // direct current while it runs

  double draw_w(const HourNeeds& needs, double x) const {
    return needs.dc_w + idle_w + (1.0 - x) * (inverted_w + working_loss_w);
  }
};

Rates rates_of(const Inverter* inverter, const HourNeeds& needs, const OutsidePower& outside,
               double acceptance_w) {
  Rates r{};
  if (inverter) {
    // The mains carries what the inverter could not.
    r.inverted_w = outside.carries_dc ? needs.ac_w : std::min(needs.ac_w, inverter->rated_w);
    r.overload_w = needs.ac_w - r.inverted_w;
    r.idle_w = inverter->standby_w * needs.inverter_on;
    r.working_loss_w = inverter->working_loss_w(r.inverted_w);
  }
  r.carried_w = std::min(r.inverted_w, outside.ac_limit_w);
  const double spare_w = (outside.ac_limit_w - r.carried_w) * outside.charger_efficiency;
  const double wanted_w =
      std::max(0.0, acceptance_w + needs.dc_w + r.idle_w - needs.panels_w - needs.vehicle_w);
  const double rated_w = outside.charger_w + (outside.carries_dc ? needs.dc_w + r.idle_w : 0.0);
  r.charger_w = std::min({rated_w, spare_w, wanted_w});
  return r;
}

}  // namespace

double charge_acceptance_w(const Battery& battery, double stored_wh, double battery_c) {
  if (battery_c < battery.charge_min_c) return 0.0;
  const double capacity_wh = battery.capacity_wh * battery.health;
  double limit_w = battery.charge_limit_w;
  if (battery.taper_from < 1.0) {
    const double least_w = std::min(limit_w, battery.taper_to_c * capacity_wh);
    if (std::isfinite(limit_w)) {
      // The line from the limit to the least, drawn on below where the taper begins.
      const double fall_w = (limit_w - least_w) / (1.0 - battery.taper_from);
      limit_w = std::min(limit_w, (least_w + fall_w) - fall_w / battery.usable_wh() * stored_wh);
    } else if (stored_wh >= battery.usable_wh()) {
      // Without a limit there is nothing finite to fall from: only full is held to its acceptance.
      limit_w = least_w;
    }
  }
  const double above_k = battery_c - battery.charge_min_c;
  if (above_k < kColdCharge_k) {
    limit_w = std::min(limit_w, (0.1 + (0.1 / kColdCharge_k) * above_k) * capacity_wh);
  }
  return limit_w;
}

double cut_off_wh(const Battery& battery, double battery_c) {
  return (1.0 - cold_capacity_share(battery_c)) * battery.usable_wh();
}

HourFlow step_hour(const Battery& battery, const Inverter* inverter, const HourNeeds& needs,
                   const OutsidePower& outside, double x, double stored_wh) {
  const double acceptance_w = charge_acceptance_w(battery, stored_wh, needs.battery_c);
  const Rates rates = rates_of(inverter, needs, outside, acceptance_w);

  HourFlow flow;
  flow.stored_before_wh = stored_wh;
  flow.outside_share = x;
  flow.panels_wh = needs.panels_w;
  flow.vehicle_wh = needs.vehicle_w;
  flow.served_outside_wh = x * rates.carried_w;
  const double charger_wh = x * rates.charger_w;
  const double draw_wh = rates.draw_w(needs, x);
  const double net_wh = flow.panels_wh + flow.vehicle_wh + charger_wh - draw_wh;
  // Loads that the inverter or the generator is too small for never reach the battery.
  flow.shortfall_wh = rates.overload_w + x * (rates.inverted_w - rates.carried_w);

  const double deliverable_wh = std::max(
      0.0, (stored_wh - cut_off_wh(battery, needs.battery_c)) * battery.discharge_efficiency);
  const double room_wh = (battery.usable_wh() - stored_wh) * (1.0 / battery.charge_efficiency);
  // What goes into the battery at its terminals, negative out of it.
  const double into_wh = std::max(std::min(net_wh, std::min(acceptance_w, room_wh)),
                                  -std::min(deliverable_wh, battery.discharge_limit_w));
  flow.to_battery_wh = std::max(0.0, into_wh);
  const double left_wh = std::max(0.0, net_wh - into_wh);
  const double held_back_wh = std::min(left_wh, charger_wh);
  flow.charger_wh = charger_wh - held_back_wh;
  flow.spilled_wh = left_wh - held_back_wh;
  flow.flat = std::min(-net_wh, battery.discharge_limit_w) - deliverable_wh > kServed_wh;
  const double short_wh = into_wh - net_wh;
  const bool is_short = short_wh > kServed_wh;
  flow.from_battery_wh = std::max(0.0, is_short ? -into_wh : -net_wh);
  const double served = is_short ? 1.0 - short_wh / draw_wh : 1.0;
  const double from_battery_side_w = (1.0 - x) * rates.inverted_w;
  flow.served_dc_wh = served * needs.dc_w;
  flow.served_inverted_wh = served * from_battery_side_w;
  flow.inverter_loss_wh = served * (rates.idle_w + (1.0 - x) * rates.working_loss_w);
  flow.shortfall_wh += (1.0 - served) * (needs.dc_w + from_battery_side_w);

  const double before_discharge_wh =
      stored_wh +
      std::min(into_wh * battery.charge_efficiency, into_wh * (1.0 / battery.discharge_efficiency));
  flow.self_discharge_wh = before_discharge_wh * (1.0 - battery.kept_per_h());
  flow.stored_after_wh = before_discharge_wh * battery.kept_per_h();
  return flow;
}

double share_to_reach(const Battery& battery, const Inverter* inverter, const HourNeeds& needs,
                      const OutsidePower& outside, double allowed, double stored_wh,
                      double target_wh) {
  const double acceptance_w = charge_acceptance_w(battery, stored_wh, needs.battery_c);
  const Rates rates = rates_of(inverter, needs, outside, acceptance_w);
  const double capped_wh = std::min(target_wh, battery.usable_wh());
  const double change_wh = capped_wh - stored_wh;
  const double wanted_net_wh = change_wh >= 0.0 ? change_wh * (1.0 / battery.charge_efficiency)
                                                : change_wh * battery.discharge_efficiency;
  // A load beyond the battery's discharge limit takes no more from it than that.
  const double net_off_wh = std::max(needs.panels_w + needs.vehicle_w - rates.draw_w(needs, 0.0),
                                     -battery.discharge_limit_w);
  const double gain_wh = rates.charger_w + rates.inverted_w + rates.working_loss_w;
  if (wanted_net_wh - net_off_wh <= kServed_wh) return 0.0;
  if (gain_wh <= kServed_wh) return allowed;
  return std::clamp((wanted_net_wh - net_off_wh) / gain_wh, 0.0, allowed);
}

double least_stored_wh(const Battery& battery, const Inverter* inverter, const HourNeeds& needs,
                       const OutsidePower& outside, double outside_share, double target_wh) {
  const double before_discharge_wh = target_wh * (1.0 / battery.kept_per_h());
  const double lowest_wh = cut_off_wh(battery, needs.battery_c);
  const auto least_accepting = [&](double acceptance_w) {
    const Rates rates = rates_of(inverter, needs, outside, acceptance_w);
    const double net_wh = needs.panels_w + needs.vehicle_w + outside_share * rates.charger_w -
                          rates.draw_w(needs, outside_share);
    const double charged_wh = std::min(net_wh, acceptance_w);
    const double drawn_wh = std::min(-net_wh, battery.discharge_limit_w);
    return net_wh >= 0.0 ? before_discharge_wh - charged_wh * battery.charge_efficiency
                         : std::max(before_discharge_wh, lowest_wh) +
                               drawn_wh * (1.0 / battery.discharge_efficiency);
  };
  const double usable_wh = battery.usable_wh();
  double least_wh =
      std::max(0.0, least_accepting(charge_acceptance_w(battery, 0.0, needs.battery_c)));
  const double taper_from_wh = battery.taper_from * usable_wh;
  if (least_wh > taper_from_wh) {
    // The fuller the battery, the less it accepts: what suffices lies between here and full.
    double too_low_wh = std::min(least_wh, usable_wh);
    least_wh = usable_wh;
    for (int halving = 0; halving < kTaperHalvings; ++halving) {
      const double middle_wh = 0.5 * (too_low_wh + least_wh);
      const bool enough =
          least_accepting(charge_acceptance_w(battery, middle_wh, needs.battery_c)) <= middle_wh;
      (enough ? least_wh : too_low_wh) = middle_wh;
    }
  }
  // So much more that rounding never makes the hour flat.
  return least_wh + 8.0 * kServed_wh;
}

}  // namespace dullspell
