#pragma once

// The arithmetic of one hour on a pack of stays, operation by operation that of the readable
// simulation (cabin.cpp, panels.cpp, energy_step.cpp), without branches but those that a whole
// block shares.

#include "engine/kernel/pack.hpp"

namespace dullspell {
namespace {

constexpr double kServed_wh = 1e-6;

FORCE_INLINE Pack cut_off_of(const KernelPlan& plan, Pack battery_c) {
  Pack share = all(1.0);
  for (int i = plan.first_cold_line; i < kKernelColdLines; ++i) {
    const KernelLine& line = plan.cold_share[i];
    share = smaller(share, line.at_0_c + line.per_k * battery_c);
  }
  return (1.0 - larger(all(plan.coldest_share), share)) * plan.usable_wh;
}

// What the cold lets a battery accept; no limit in the warm.
FORCE_INLINE Pack cold_acceptance_of(const KernelPlan& plan, Pack battery_c) {
  constexpr double kCold_k = 5.0;
  const Pack above_k = battery_c - plan.charge_min_c;
  const Pack cold_w = (0.1 + (0.1 / kCold_k) * above_k) * plan.capacity_wh;
  const Pack limit_w = above_k < kCold_k ? cold_w : all(__builtin_inf());
  return battery_c < plan.charge_min_c ? all(0.0) : limit_w;
}

struct Cabin {
  Pack furnace_w, held_c, drifting_c;
};

FORCE_INLINE Cabin cabin_of(const KernelPlan& plan, int hour_of_day, Pack air_c) {
  constexpr double kLivedIn_c = 15.0;
  Cabin cabin;
  cabin.furnace_w = all(0.0);
  cabin.held_c = cabin.drifting_c = larger(all(kLivedIn_c), air_c);
  if (plan.has_furnace) {
    const double unheld = plan.unheld_share[hour_of_day];
    const Pack unheated_c = air_c + plan.gains_k;
    const Pack warmest_c = air_c + plan.output_and_gains_k;
    const Pack otherwise_c =
        plan.has_other_heat ? larger(all(plan.other_heat_c), unheated_c) : unheated_c;
    cabin.held_c = unheld * otherwise_c;
    cabin.drifting_c = unheld * otherwise_c + (1.0 - unheld) * unheated_c;
    for (int i = plan.hold_begin[hour_of_day]; i < plan.hold_begin[hour_of_day + 1]; ++i) {
      const KernelHold& hold = plan.hold[i];
      const Pack heat_w = plan.heat_loss_w_per_k * (hold.set_point_c - air_c) - plan.gains_w;
      const Pack duty = clamped(heat_w * plan.per_output_w, all(0.0), all(1.0));
      cabin.furnace_w += hold.share * duty * plan.blower_w;
      cabin.held_c += hold.share * clamped(all(hold.set_point_c), unheated_c, warmest_c);
    }
  }
  return cabin;
}

FORCE_INLINE Pack fridge_of(const KernelPlan& plan, Pack ambient_c) {
  Pack power_w = all(plan.fridge_coldest_w);
  for (int i = 0; i < plan.fridge_pieces; ++i) {
    const KernelPiece& piece = plan.fridge_piece[i];
    power_w += piece.w_per_k * clamped(ambient_c - piece.from_c, all(0.0), all(piece.length_k));
  }
  return power_w;
}

FORCE_INLINE Pack acceptance_of(const KernelPlan& plan, Pack stored_wh, Pack cold_w) {
  Pack limit_w = all(plan.charge_limit_w);
  if (plan.tapers) {
    limit_w = smaller(limit_w, plan.taper_at_empty_w - plan.taper_w_per_wh * stored_wh);
  } else if (plan.full_accepts_less) {
    limit_w = stored_wh >= plan.usable_wh ? all(plan.taper_least_w) : limit_w;
  }
  return smaller(limit_w, cold_w);
}

struct Needs {
  Pack dc_w, ac_w, panels_w, cut_off_wh;
  double vehicle_w, inverter_on;
};

struct Outside {
  double charger_w = 0.0;
  double ac_limit_w = __builtin_inf();
  double charger_efficiency = 1.0;
  bool carries_dc = false;
};

FORCE_INLINE Outside mains_of(const KernelPlan& plan) {
  Outside outside;
  outside.charger_w = plan.hookup_charger_w;
  outside.carries_dc = true;
  return outside;
}

FORCE_INLINE Outside generator_of(const KernelPlan& plan) {
  Outside outside;
  outside.charger_w = plan.generator_charger_w;
  outside.ac_limit_w = plan.generator_rated_w;
  outside.charger_efficiency = plan.generator_charger_efficiency;
  return outside;
}

// Alternating-current loads and what they cost.
struct Inverted {
  Pack inverted_w, overload_w, working_loss_w;
  double idle_w;
};

FORCE_INLINE Inverted inverted_of(const KernelPlan& plan, const Needs& needs, bool mains) {
  Inverted r;
  r.inverted_w = r.overload_w = r.working_loss_w = all(0.0);
  r.idle_w = 0.0;
  if (plan.has_inverter) {
    const bool limited = plan.may_overload && !mains;
    r.inverted_w = limited ? smaller(needs.ac_w, all(plan.inverter_rated_w)) : needs.ac_w;
    r.overload_w = limited ? needs.ac_w - r.inverted_w : all(0.0);
    r.idle_w = plan.inverter_standby_w * needs.inverter_on;
    r.working_loss_w =
        (plan.inverter_linear + plan.inverter_quadratic_per_w * r.inverted_w) * r.inverted_w;
  }
  return r;
}

struct Rates : Inverted {
  Pack carried_w, charger_w;
};

FORCE_INLINE Rates rates_of(const KernelPlan& plan, const Needs& needs, const Outside& outside,
                            Pack acceptance_w) {
  Rates r{inverted_of(plan, needs, outside.carries_dc), all(0.0), all(0.0)};
  r.carried_w = smaller(r.inverted_w, all(outside.ac_limit_w));
  const Pack spare_w = (outside.ac_limit_w - r.carried_w) * outside.charger_efficiency;
  const Pack wanted_w =
      larger(all(0.0), acceptance_w + needs.dc_w + r.idle_w - needs.panels_w - needs.vehicle_w);
  const Pack rated_w =
      outside.carries_dc ? outside.charger_w + (needs.dc_w + r.idle_w) : all(outside.charger_w);
  r.charger_w = smaller(smaller(rated_w, spare_w), wanted_w);
  return r;
}

FORCE_INLINE Pack draw_of(const Inverted& r, const Needs& needs, Pack x) {
  return needs.dc_w + r.idle_w + (1.0 - x) * (r.inverted_w + r.working_loss_w);
}

// The battery's part of an hour in which `net_wh` is left over, or missing: `gap_wh` of it finds no
// place, or is short.
struct Flow {
  Pack stored_after_wh, gap_wh;
  Mask flat;
};

template <bool kCharges>
FORCE_INLINE Flow step(const KernelPlan& plan, const Needs& needs, Pack net_wh, Pack acceptance_w,
                       Pack stored_wh) {
  Flow flow;
  // What goes into the battery at its terminals, negative out of it.
  Pack into_wh = net_wh;
  if constexpr (kCharges) {
    const Pack room_wh = (plan.usable_wh - stored_wh) * plan.per_charge_efficiency;
    into_wh = smaller(net_wh, smaller(acceptance_w, room_wh));
  }
  const Pack most_out_wh =
      smaller(all(0.0), (needs.cut_off_wh - stored_wh) * plan.discharge_efficiency);
  if (plan.may_overdraw) {
    into_wh = larger(into_wh, larger(most_out_wh, all(-plan.discharge_limit_w)));
    flow.flat = smaller(-net_wh, all(plan.discharge_limit_w)) + most_out_wh > kServed_wh;
  } else {
    into_wh = larger(into_wh, most_out_wh);
    flow.flat = most_out_wh - net_wh > kServed_wh;
  }
  flow.gap_wh = net_wh - into_wh;
  const Pack drawn_wh = into_wh * plan.per_discharge_efficiency;
  const Pack change_wh = kCharges ? smaller(into_wh * plan.charge_efficiency, drawn_wh) : drawn_wh;
  flow.stored_after_wh = (stored_wh + change_wh) * plan.kept_per_h;
  return flow;
}

FORCE_INLINE Pack share_to_reach(const KernelPlan& plan, const Needs& needs, const Rates& r,
                                 double allowed, Pack stored_wh, Pack target_wh) {
  const Pack capped_wh = smaller(target_wh, all(plan.usable_wh));
  const Pack change_wh = capped_wh - stored_wh;
  const Pack wanted_wh = change_wh >= 0.0 ? change_wh * plan.per_charge_efficiency
                                          : change_wh * plan.discharge_efficiency;
  const Pack off_wh = larger(needs.panels_w + needs.vehicle_w - draw_of(r, needs, all(0.0)),
                             all(-plan.discharge_limit_w));
  const Pack gain_wh = r.charger_w + r.inverted_w + r.working_loss_w;
  Pack share = clamped((wanted_wh - off_wh) / gain_wh, all(0.0), all(allowed));
  share = gain_wh <= kServed_wh ? all(allowed) : share;
  return wanted_wh - off_wh <= kServed_wh ? all(0.0) : share;
}

FORCE_INLINE Pack least_accepting(const KernelPlan& plan, const Needs& needs,
                                  const Outside& outside, double x, Pack acceptance_w,
                                  Pack before_discharge_wh) {
  const Inverted r = inverted_of(plan, needs, outside.carries_dc);
  Pack offered_wh = all(0.0);
  if (x > 0.0) offered_wh = x * rates_of(plan, needs, outside, acceptance_w).charger_w;
  const Pack net_wh = needs.panels_w + needs.vehicle_w + offered_wh - draw_of(r, needs, all(x));
  const Pack charged_wh = smaller(net_wh, acceptance_w);
  const Pack drawn_wh = smaller(-net_wh, all(plan.discharge_limit_w));
  return net_wh >= 0.0 ? before_discharge_wh - charged_wh * plan.charge_efficiency
                       : larger(before_discharge_wh, needs.cut_off_wh) +
                             drawn_wh * plan.per_discharge_efficiency;
}

FORCE_INLINE Pack least_stored_of(const KernelPlan& plan, const Needs& needs,
                                  const Outside& outside, double x, Pack cold_w, Pack target_wh) {
  const Pack before_discharge_wh = target_wh * plan.per_kept_per_h;
  const Pack empty_w = acceptance_of(plan, all(0.0), cold_w);
  Pack least_wh =
      larger(all(0.0), least_accepting(plan, needs, outside, x, empty_w, before_discharge_wh));
  const Mask in_taper = least_wh > plan.taper_from * plan.usable_wh;
  if (bits_of(in_taper)) {
    Pack too_low_wh = smaller(least_wh, all(plan.usable_wh));
    Pack enough_wh = all(plan.usable_wh);
    for (int halving = 0; halving < kKernelTaperHalvings; ++halving) {
      const Pack middle_wh = 0.5 * (too_low_wh + enough_wh);
      const Pack least_here_wh = least_accepting(
          plan, needs, outside, x, acceptance_of(plan, middle_wh, cold_w), before_discharge_wh);
      const Mask enough = least_here_wh <= middle_wh;
      enough_wh = enough ? middle_wh : enough_wh;
      too_low_wh = enough ? too_low_wh : middle_wh;
    }
    least_wh = in_taper ? enough_wh : least_wh;
  }
  return least_wh + 8.0 * kServed_wh;
}

// What the weather alone decides in one hour.
struct HourWeather {
  alignas(64) double dc_w[kBlockStays];  // all but optional loads
  alignas(64) double ac_w[kBlockStays];
  alignas(64) double panels_w[kBlockStays];
  alignas(64) double cut_off_wh[kBlockStays];
  alignas(64) double cold_acceptance_w[kBlockStays];
  // Of a battery whose furnace has no power.
  alignas(64) double powerless_cut_off_wh[kBlockStays];
  alignas(64) double powerless_cold_acceptance_w[kBlockStays];
};

// Turns rows into columns in steps of 1, 2, 4, ... elements.
template <int kStep>
FORCE_INLINE void transpose(Pack (&rows)[kWidth]) {
  if constexpr (kStep < kWidth) {
    Mask left, right;
    for (int i = 0; i < kWidth; ++i) {
      left[i] = i & kStep ? kWidth + i - kStep : i;
      right[i] = i & kStep ? kWidth + i : i + kStep;
    }
    for (int i = 0; i < kWidth; ++i) {
      if (i & kStep) continue;
      const Pack a = rows[i], b = rows[i + kStep];
      rows[i] = __builtin_shuffle(a, b, left);
      rows[i + kStep] = __builtin_shuffle(a, b, right);
    }
    transpose<2 * kStep>(rows);
  }
}

// Every stay's line of the tables of clearness: once a segment, so that an hour looks nothing up.
[[maybe_unused]] __attribute__((noinline)) void power_of_segment(const KernelPlan& plan,
                                                                 int segment, const double* k,
                                                                 double* power) {
  const KernelSegment& in = plan.segment[segment];
  const int begin = 2 * in.lit_from / kWidth * kWidth;
  for (int at = 0; at < kBlockStays; at += kWidth) {
    const Pack position = clamped(load(k + at), all(0.0), all(1.0)) * (kKernelNodes - 1.0);
    int node[kWidth];
    Pack weight[kWidth];
    for (int i = 0; i < kWidth; ++i) {
      node[i] = static_cast<int>(position[i]);
      node[i] = node[i] < kKernelNodes - 2 ? node[i] : kKernelNodes - 2;
      weight[i] = all(position[i] - node[i]);
    }
    for (int c = 0; c < plan.controllers; ++c) {
      const double* table =
          plan.power + (segment * plan.controllers + c) * kKernelNodes * kKernelPowerColumns;
      double* out = power + c * kKernelPowerColumns * kBlockStays + at;
      for (int column = begin; column < 2 * in.lit_to; column += kWidth) {
        Pack rows[kWidth];
        for (int i = 0; i < kWidth; ++i) {
          const double* low = table + node[i] * kKernelPowerColumns + column;
          rows[i] = load(low) + weight[i] * (load(low + kKernelPowerColumns) - load(low));
        }
        transpose<1>(rows);
        for (int i = 0; i < kWidth; ++i) store(out + (column + i) * kBlockStays, rows[i]);
      }
    }
  }
}

FORCE_INLINE Pack panels_of(const KernelPlan& plan, const KernelHour& hour, const double* power,
                            Pack air_c) {
  const Pack warmer_k = air_c - 25.0;
  Pack sum_w = all(0.0);
  for (int c = 0; c < plan.controllers; ++c) {
    const double* line = power + (c * kKernelPowerColumns + 2 * hour.hour_of_day) * kBlockStays;
    sum_w += clamped(load(line) + load(line + kBlockStays) * warmer_k, all(0.0),
                     all(plan.controller_limit_w[c]));
  }
  return sum_w * hour.at_camp;
}

// Flexible loads of one hour.
struct HourUse {
  int loads, optional_loads;
  const KernelLoad* load;
  const double* watts;  // [load]
  const double* use;    // [load][stay]
};

FORCE_INLINE HourUse use_of(const KernelPlan& plan, const KernelWeather& weather, int h) {
  return {plan.loads, plan.optional_loads, plan.load, plan.load_w + h * plan.loads,
          weather.use + plan.hour[h].segment * plan.loads * kBlockStays};
}

// Sums over the hours of a block's stays.
struct WeatherSums {
  double* panels_wh;
  double* wanted_wh;  // by all loads
};

// Functions over a row of stays are functions of their own, so that the compiler keeps each loop's
// registers to itself, and their arguments do not overlap: else it would read the plan again after
// each store.

// `powerless`: some stay was flat in the hour before.
[[maybe_unused]] __attribute__((noinline)) void weather_row(
    const KernelPlan& __restrict plan, const KernelHour& __restrict hour,
    const HourUse& __restrict use, const KernelWeather& __restrict weather, const double* power,
    bool powerless, HourWeather& __restrict out, const WeatherSums& __restrict sums) {
  for (int at = 0; at < kBlockStays; at += kWidth) {
    const int row = hour.segment * kBlockStays + at;
    const Pack air_c =
        load(weather.temp_mean_c + row) + load(weather.temp_range_c + row) * hour.temperature_swing;
    const Cabin cabin = cabin_of(plan, hour.hour_of_day, air_c);
    Pack dc_w = hour.fixed_dc_w + cabin.furnace_w;
    Pack ac_w = all(hour.fixed_ac_w);
    if (plan.has_fridge) {
      const Pack fridge_w = fridge_of(plan, cabin.held_c);
      if (plan.fridge_ac) {
        ac_w += fridge_w * hour.inverter_on;
      } else {
        dc_w += fridge_w;
      }
    }
    Pack optional_w = all(0.0);
    for (int i = 0; i < use.optional_loads; ++i) {
      optional_w += use.watts[i] * load(use.use + i * kBlockStays + at);
    }
    for (int i = use.optional_loads; i < use.loads; ++i) {
      const Pack watts = use.watts[i] * load(use.use + i * kBlockStays + at);
      if (use.load[i].ac) {
        ac_w += watts;
      } else {
        dc_w += watts;
      }
    }
    store(out.dc_w + at, dc_w);
    store(out.ac_w + at, ac_w);
    if (sums.wanted_wh) add_to(sums.wanted_wh + at, dc_w + ac_w + optional_w);

    const Pack battery_c = plan.battery_outside ? air_c : cabin.held_c;
    store(out.cut_off_wh + at, cut_off_of(plan, battery_c));
    if (hour.charging) {
      const Pack panels_w = hour.lit ? panels_of(plan, hour, power + at, air_c) : all(0.0);
      store(out.panels_w + at, panels_w);
      store(out.cold_acceptance_w + at, plan.charges_in_any_weather
                                            ? all(__builtin_inf())
                                            : cold_acceptance_of(plan, battery_c));
      if (hour.lit && sums.panels_wh) add_to(sums.panels_wh + at, panels_w);
    }
    if (powerless) {
      store(out.powerless_cut_off_wh + at, cut_off_of(plan, cabin.drifting_c));
      store(out.powerless_cold_acceptance_w + at, cold_acceptance_of(plan, cabin.drifting_c));
    }
  }
}

// Adds the optional loads that a stay with `stored_wh` still runs; returns those given up.
FORCE_INLINE Pack add_optional_loads(const HourUse& use, int at, Pack stored_wh, Needs& needs) {
  Pack given_up_w = all(0.0);
  for (int i = 0; i < use.optional_loads; ++i) {
    const Pack wanted_w = use.watts[i] * load(use.use + i * kBlockStays + at);
    const Mask dropped = stored_wh < use.load[i].optional_below_wh;
    const Pack watts = dropped ? all(0.0) : wanted_w;
    given_up_w += dropped ? wanted_w : all(0.0);
    if (use.load[i].ac) {
      needs.ac_w += watts;
    } else {
      needs.dc_w += watts;
    }
  }
  return given_up_w;
}

}  // namespace
}  // namespace dullspell
