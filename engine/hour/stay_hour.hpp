#pragma once

// What one hour of a stay does, for one stay or for a pack of them. No library header, as
// number.hpp says.

#include "engine/hour/hour_tables.hpp"

namespace dullspell {

/// What the weather alone decides of an hour, once for both tracks.
template <class N>
struct HourWeather {
  N dc_w, ac_w;              ///< all but optional loads
  N optional_w;              ///< these
  N battery_c, powerless_c;  ///< cells, with the furnace working and without
};

/// `use(i)` is the use of load i on the segment's day over its usual use. `fridge` is that of the
/// tables, at least the pieces that the hour reaches.
template <class N, class Use>
FORCE_INLINE HourWeather<N> hour_weather(const HourTables& tables, const FridgeModel& fridge,
                                         const HourSlot& slot, const double* load_w, const Use& use,
                                         N air_c) {
  HourWeather<N> out{};
  const Cabin<N> cabin = cabin_at<N>(tables.furnace, slot.hour_of_day, air_c);
  out.dc_w = slot.fixed_dc_w + cabin.furnace_w;
  out.ac_w = all<N>(slot.fixed_ac_w);
  if (fridge.present) {
    const N watts = fridge_w<N>(fridge, cabin.held_c);
    if (fridge.ac) {
      out.ac_w += watts * slot.inverter_on;
    } else {
      out.dc_w += watts;
    }
  }
  out.optional_w = all<N>(0.0);
  for (int i = 0; i < tables.optional_loads; ++i) out.optional_w += load_w[i] * use(i);
  for (int i = tables.optional_loads; i < tables.loads; ++i) {
    const N watts = load_w[i] * use(i);
    if (tables.load[i].ac) {
      out.ac_w += watts;
    } else {
      out.dc_w += watts;
    }
  }
  out.battery_c = tables.battery_outside ? air_c : cabin.held_c;
  out.powerless_c = tables.battery_outside ? air_c : cabin.drifting_c;
  return out;
}

/// Power of one controller's panels at its line of the power table, W.
template <class N>
FORCE_INLINE N controller_power_w(N at_25, N per_k, N air_c, double limit_w) {
  return clamped<N>(at_25 + per_k * (air_c - 25.0), all<N>(0.0), all<N>(limit_w));
}

/// Adds the optional loads that a stay with `stored_wh` still runs; returns those given up.
template <class N, class Use>
FORCE_INLINE N add_optional_loads(const HourTables& tables, const double* load_w, const Use& use,
                                  N stored_wh, Needs<N>& needs) {
  N given_up_w = all<N>(0.0);
  for (int i = 0; i < tables.optional_loads; ++i) {
    const N wanted_w = load_w[i] * use(i);
    const MaskOf<N> dropped = stored_wh < tables.load[i].optional_below_wh;
    const N watts = select<N>(dropped, all<N>(0.0), wanted_w);
    given_up_w += select<N>(dropped, wanted_w, all<N>(0.0));
    if (tables.load[i].ac) {
      needs.ac_w += watts;
    } else {
      needs.dc_w += watts;
    }
  }
  return given_up_w;
}

/// A generator from one hour to the next.
template <class N>
struct GeneratorState {
  MaskOf<N> running;  ///< at the end of the hour before
  N must_run_h;       ///< of its shortest run, still to come
};

/// How a generator ran in one hour.
template <class N>
struct GeneratorHour {
  N share;
  MaskOf<N> started;
};

/// The share of an hour that a generator runs: it starts by what is stored as the hour begins,
/// stops where the hour's level is reached, and runs for `min_run_h` at least, as far as it is
/// allowed.
template <class N>
FORCE_INLINE GeneratorHour<N> run_generator(const HourTables& tables, const HourSlot& slot,
                                            const Needs<N>& needs, const Rates<N>& rates,
                                            N stored_wh, GeneratorState<N>& state) {
  const GeneratorModel& generator = tables.generator;
  const double allowed = slot.source_share;
  const MaskOf<N> wanted = state.running | (stored_wh < slot.start_below_wh);
  const N reach =
      share_to_reach<N>(tables.battery, needs, rates, allowed, stored_wh, all<N>(slot.stop_at_wh));
  N share = select<N>(wanted, reach, all<N>(0.0));
  const N must_run_h =
      select<N>((share > 0.0) & !state.running, all<N>(generator.min_run_h), state.must_run_h);
  share = larger<N>(share, smaller<N>(all<N>(allowed), must_run_h));
  const MaskOf<N> runs = share > 0.0;
  const MaskOf<N> started = runs & !state.running;
  state.must_run_h = larger<N>(all<N>(0.0), must_run_h - share);
  // Still running at the hour's end only if it used up all that the hour allows.
  state.running = runs & (share >= allowed);
  return {share, started};
}

/// What an hour came to on one track.
template <class N>
struct HourOutcome {
  N draw_wh;            ///< direct current, outside power's share left out
  N offered_wh;         ///< by the charger of outside power
  N unserved_ac_wh;     ///< what inverter or outside power is too small for
  N from_battery_ac_w;  ///< alternating-current loads on the battery's side, averaged
  BatteryHour<N> battery;
};

/// An hour without power from outside.
template <Charging kCharging, class N>
FORCE_INLINE HourOutcome<N> hour_alone(const HourTables& tables, const Needs<N>& needs,
                                       N acceptance_w, N stored_wh) {
  const Inverted<N> r = inverted_of<N>(tables.inverter, needs, false);
  HourOutcome<N> out{};
  out.draw_wh = draw_w<N>(r, needs, all<N>(0.0));
  out.offered_wh = all<N>(0.0);
  out.unserved_ac_wh = r.overload_w;
  out.from_battery_ac_w = r.inverted_w;
  N net_wh = -out.draw_wh;
  if constexpr (kCharging == Charging::maybe) {
    net_wh = needs.panels_w + needs.vehicle_w - out.draw_wh;
  }
  out.battery = battery_hour<kCharging, N>(tables.battery, needs, net_wh, acceptance_w, stored_wh);
  return out;
}

/// An hour with power from outside for the share `x` of it.
template <class N>
FORCE_INLINE HourOutcome<N> hour_with_outside(const HourTables& tables, const Needs<N>& needs,
                                              const Rates<N>& r, N x, N acceptance_w, N stored_wh) {
  HourOutcome<N> out{};
  out.offered_wh = x * r.charger_w;
  out.draw_wh = draw_w<N>(r, needs, x);
  out.unserved_ac_wh = r.overload_w + x * (r.inverted_w - r.carried_w);
  out.from_battery_ac_w = (1.0 - x) * r.inverted_w;
  out.battery = battery_hour<Charging::maybe, N>(
      tables.battery, needs, needs.panels_w + needs.vehicle_w + out.offered_wh - out.draw_wh,
      acceptance_w, stored_wh);
  return out;
}

/// Where the surplus of an hour that found no place was lost: held back at the charger first.
template <class N>
struct Surplus {
  N held_back_wh, spilled_wh;
};

template <class N>
FORCE_INLINE Surplus<N> surplus_of(const HourOutcome<N>& hour) {
  const N left_wh = larger<N>(all<N>(0.0), hour.battery.gap_wh);
  const N held_back_wh = smaller<N>(left_wh, hour.offered_wh);
  return {held_back_wh, left_wh - held_back_wh};
}

}  // namespace dullspell
