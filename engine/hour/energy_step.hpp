#pragma once

// The energy balance of one hour, for one stay or for a pack of stays side by side: operation by
// operation the same, so that both give the same bits. No library header, as number.hpp says.

#include "engine/hour/number.hpp"
#include "engine/kit/battery_model.hpp"
#include "engine/kit/generator_model.hpp"
#include "engine/kit/inverter_model.hpp"

namespace dullspell {

/// A shortage below this is rounding, not a flat battery.
constexpr double kServed_wh = 1e-6;

/// What one hour asks for and brings, W averaged over the hour, and how far its temperature lets
/// the battery go.
template <class N>
struct Needs {
  N dc_w;  ///< loads on the battery's side
  N ac_w;  ///< loads behind the inverter
  N panels_w;
  N cut_off_wh;  ///< stored energy at which the battery cuts off
  double vehicle_w;
  double inverter_on;  ///< share of the hour that the inverter idles or works
};

/// Alternating-current loads and what they cost.
template <class N>
struct Inverted {
  N inverted_w;      ///< that are asked for, within the rating
  N overload_w;      ///< what the inverter's rating leaves out
  N working_loss_w;  ///< beyond standby, while the inverter carries the loads
  double idle_w;     ///< standby
};

/// The mains carries what the inverter could not.
template <class N>
FORCE_INLINE Inverted<N> inverted_of(const InverterModel& inverter, const Needs<N>& needs,
                                     bool mains) {
  Inverted<N> r{all<N>(0.0), all<N>(0.0), all<N>(0.0), 0.0};
  if (!inverter.present) return r;
  const bool limited = inverter.may_overload && !mains;
  r.inverted_w = limited ? smaller<N>(needs.ac_w, all<N>(inverter.rated_w)) : needs.ac_w;
  r.overload_w = limited ? needs.ac_w - r.inverted_w : all<N>(0.0);
  r.idle_w = inverter.standby_w * needs.inverter_on;
  r.working_loss_w = (inverter.linear + inverter.quadratic_per_w * r.inverted_w) * r.inverted_w;
  return r;
}

/// What outside power could do in an hour that it ran all through.
template <class N>
struct Rates : Inverted<N> {
  N carried_w;  ///< alternating-current loads that it carries
  N charger_w;  ///< direct current
};

template <class N>
FORCE_INLINE Rates<N> rates_of(const InverterModel& inverter, const Needs<N>& needs,
                               const OutsidePower& outside, N acceptance_w) {
  Rates<N> r{inverted_of<N>(inverter, needs, outside.carries_dc), all<N>(0.0), all<N>(0.0)};
  r.carried_w = smaller<N>(r.inverted_w, all<N>(outside.ac_limit_w));
  const N spare_w = (outside.ac_limit_w - r.carried_w) * outside.charger_efficiency;
  const N wanted_w = larger<N>(
      all<N>(0.0), acceptance_w + needs.dc_w + r.idle_w - needs.panels_w - needs.vehicle_w);
  const N rated_w =
      outside.carries_dc ? outside.charger_w + (needs.dc_w + r.idle_w) : all<N>(outside.charger_w);
  r.charger_w = smaller<N>(smaller<N>(rated_w, spare_w), wanted_w);
  return r;
}

/// Direct current drawn while outside power runs for the share `x` of the hour.
template <class N>
FORCE_INLINE N draw_w(const Inverted<N>& r, const Needs<N>& needs, N x) {
  return needs.dc_w + r.idle_w + (1.0 - x) * (r.inverted_w + r.working_loss_w);
}

/// Whether anything may charge the battery in an hour; without, less is asked.
enum class Charging { never, maybe };

/// The battery's part of an hour: `into_wh` goes into it at its terminals, negative out of it, and
/// `gap_wh` of what was left over or missing finds no place, or is short.
template <class N>
struct BatteryHour {
  N stored_after_wh, before_loss_wh, into_wh, gap_wh;
  MaskOf<N> flat;
};

/// An hour in which `net_wh` is left over, or missing. A surplus charges within the battery's
/// acceptance and room, a deficit discharges within its limit down to the cut-off.
template <Charging kCharging, class N>
FORCE_INLINE BatteryHour<N> battery_hour(const BatteryModel& battery, const Needs<N>& needs,
                                         N net_wh, N acceptance_w, N stored_wh) {
  BatteryHour<N> hour{};
  N into_wh = net_wh;
  if constexpr (kCharging == Charging::maybe) {
    const N room_wh = (battery.usable_wh - stored_wh) * battery.per_charge_efficiency;
    into_wh = smaller<N>(net_wh, smaller<N>(acceptance_w, room_wh));
  }
  const N most_out_wh =
      smaller<N>(all<N>(0.0), (needs.cut_off_wh - stored_wh) * battery.discharge_efficiency);
  if (battery.may_overdraw) {
    const N limit_w = all<N>(battery.discharge_limit_w);
    into_wh = larger<N>(into_wh, larger<N>(most_out_wh, -limit_w));
    hour.flat = smaller<N>(-net_wh, limit_w) + most_out_wh > kServed_wh;
  } else {
    into_wh = larger<N>(into_wh, most_out_wh);
    hour.flat = most_out_wh - net_wh > kServed_wh;
  }
  hour.into_wh = into_wh;
  hour.gap_wh = net_wh - into_wh;
  const N drawn_wh = into_wh * battery.per_discharge_efficiency;
  const N change_wh = kCharging == Charging::maybe
                          ? smaller<N>(into_wh * battery.charge_efficiency, drawn_wh)
                          : drawn_wh;
  hour.before_loss_wh = stored_wh + change_wh;
  hour.stored_after_wh = hour.before_loss_wh * battery.kept_per_h;
  return hour;
}

/// Share of what is asked for that is served where `gap_wh` is short; 1 where nothing is.
template <class N>
FORCE_INLINE N served_share(N gap_wh, N draw_wh) {
  const N short_wh = -gap_wh;
  return select<N>(short_wh > kServed_wh, 1.0 - short_wh / draw_wh, all<N>(1.0));
}

/// Share of the hour (0..allowed) that outside power must run so that the hour ends with
/// `target_wh` stored; `allowed` if even that is not enough.
template <class N>
FORCE_INLINE N share_to_reach(const BatteryModel& battery, const Needs<N>& needs, const Rates<N>& r,
                              double allowed, N stored_wh, N target_wh) {
  const N capped_wh = smaller<N>(target_wh, all<N>(battery.usable_wh));
  const N change_wh = capped_wh - stored_wh;
  const N wanted_wh = select<N>(change_wh >= 0.0, change_wh * battery.per_charge_efficiency,
                                change_wh * battery.discharge_efficiency);
  // A load beyond the battery's discharge limit takes no more from it than that.
  const N off_wh = larger<N>(needs.panels_w + needs.vehicle_w - draw_w<N>(r, needs, all<N>(0.0)),
                             all<N>(-battery.discharge_limit_w));
  const N gain_wh = r.charger_w + r.inverted_w + r.working_loss_w;
  N share = clamped<N>((wanted_wh - off_wh) / gain_wh, all<N>(0.0), all<N>(allowed));
  share = select<N>(gain_wh <= kServed_wh, all<N>(allowed), share);
  return select<N>(wanted_wh - off_wh <= kServed_wh, all<N>(0.0), share);
}

/// Halvings of the search for the least stored energy in the taper.
constexpr int kTaperHalvings = 12;

/// Least stored energy from which an hour is not flat and ends with `before_loss_wh`, the battery
/// accepting so much.
template <class N>
FORCE_INLINE N least_accepting_wh(const BatteryModel& battery, const InverterModel& inverter,
                                  const Needs<N>& needs, const OutsidePower& outside, double x,
                                  N acceptance_w, N before_loss_wh) {
  const Inverted<N> r = inverted_of<N>(inverter, needs, outside.carries_dc);
  N offered_wh = all<N>(0.0);
  if (x > 0.0) offered_wh = x * rates_of<N>(inverter, needs, outside, acceptance_w).charger_w;
  const N net_wh = needs.panels_w + needs.vehicle_w + offered_wh - draw_w<N>(r, needs, all<N>(x));
  const N charged_wh = smaller<N>(net_wh, acceptance_w);
  const N drawn_wh = smaller<N>(-net_wh, all<N>(battery.discharge_limit_w));
  return select<N>(
      net_wh >= 0.0, before_loss_wh - charged_wh * battery.charge_efficiency,
      larger<N>(before_loss_wh, needs.cut_off_wh) + drawn_wh * battery.per_discharge_efficiency);
}

/// Least stored energy from which an hour with outside power for the share `x` of it is not flat
/// and ends with `target_wh` or more: exact below the taper, there at most a 4096th of it too much.
/// A full battery, or a little more, where nothing suffices.
template <class N>
FORCE_INLINE N least_stored_wh(const BatteryModel& battery, const InverterModel& inverter,
                               const Needs<N>& needs, const OutsidePower& outside, double x,
                               N cold_w, N target_wh) {
  const N before_loss_wh = target_wh * battery.per_kept_per_h;
  const N empty_w = acceptance_w<N>(battery, all<N>(0.0), cold_w);
  N least_wh = larger<N>(all<N>(0.0), least_accepting_wh<N>(battery, inverter, needs, outside, x,
                                                            empty_w, before_loss_wh));
  const MaskOf<N> in_taper = least_wh > battery.taper_from_wh;
  if (any<N>(in_taper)) {
    // The fuller the battery, the less it accepts: what suffices lies between here and full.
    N too_low_wh = smaller<N>(least_wh, all<N>(battery.usable_wh));
    N enough_wh = all<N>(battery.usable_wh);
    for (int halving = 0; halving < kTaperHalvings; ++halving) {
      const N middle_wh = 0.5 * (too_low_wh + enough_wh);
      const N least_here_wh =
          least_accepting_wh<N>(battery, inverter, needs, outside, x,
                                acceptance_w<N>(battery, middle_wh, cold_w), before_loss_wh);
      const MaskOf<N> enough = least_here_wh <= middle_wh;
      enough_wh = select<N>(enough, middle_wh, enough_wh);
      too_low_wh = select<N>(enough, too_low_wh, middle_wh);
    }
    least_wh = select<N>(in_taper, enough_wh, least_wh);
  }
  // So much more that rounding never makes the hour flat.
  return least_wh + 8.0 * kServed_wh;
}

}  // namespace dullspell
