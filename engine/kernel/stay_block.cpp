// Compiled once for each instruction set; DULLSPELL_LEVEL ends the names that it defines.
#include "engine/kernel/block_hour.hpp"

namespace dullspell {
namespace {

// State of a block on one track.
struct TrackState {
  alignas(64) double stored_wh[kBlockStays];
  alignas(64) long long was_flat[kBlockStays];
  alignas(64) long long running[kBlockStays];
  alignas(64) double must_run_h[kBlockStays];
};

// What a block can draw on in an hour, its battery apart. Hours of the first two kinds are most of
// a stay, and need least.
enum class Power { none, own, mains, generator };

// Share of the hour that the generator runs by its rule.
FORCE_INLINE Pack run_generator(const KernelPlan& plan, const KernelHour& hour, const Needs& needs,
                                const Rates& rates, int at, Pack stored_wh, TrackState& state,
                                KernelTrack& out) {
  const double allowed = hour.generator_allowed;
  const Mask was_running = load_mask(state.running + at);
  Pack target_wh = all(hour.generator_target_wh);
  if (plan.rule_below) {
    const Mask wanted = was_running | (stored_wh < plan.start_below_wh);
    target_wh = wanted ? all(plan.stop_at_wh) : all(-1.0);
  }
  const Pack reach = share_to_reach(plan, needs, rates, allowed, stored_wh, target_wh);
  Pack share = target_wh >= 0.0 ? reach : all(0.0);
  Pack must_run_h = load(state.must_run_h + at);
  must_run_h = (share > 0.0) & ~was_running ? all(plan.min_run_h) : must_run_h;
  share = larger(share, smaller(all(allowed), must_run_h));
  const Mask runs = share > 0.0;
  store(state.must_run_h + at, larger(all(0.0), must_run_h - share));
  // Still running at the hour's end only if it used up all that the hour allows.
  store_mask(state.running + at, runs & (share >= allowed));
  add_to(out.starts + at, runs & ~was_running ? all(1.0) : all(0.0));
  add_to(out.generator_h + at, share);
  return share;
}

template <Power kPower>
FORCE_INLINE void track_hour(const KernelPlan& plan, const KernelHour& hour, const HourUse& use,
                             int h, int at, const HourWeather& common, bool powerless,
                             TrackState& state, KernelTrack& out, unsigned long long& flat_row) {
  const bool sums = out.charge_bin != nullptr;
  constexpr bool kOutside = kPower == Power::mains || kPower == Power::generator;
  const Pack stored_wh = load(state.stored_wh + at);
  Needs needs{load(common.dc_w + at),       load(common.ac_w + at), all(0.0),
              load(common.cut_off_wh + at), hour.vehicle_w,         hour.inverter_on};
  Pack acceptance_w = all(0.0);
  if constexpr (kPower != Power::none) {
    needs.panels_w = load(common.panels_w + at);
    acceptance_w = load(common.cold_acceptance_w + at);
  }
  if (powerless) {
    const Mask was_flat = load_mask(state.was_flat + at);
    needs.cut_off_wh = was_flat ? load(common.powerless_cut_off_wh + at) : needs.cut_off_wh;
    if constexpr (kPower != Power::none) {
      acceptance_w = was_flat ? load(common.powerless_cold_acceptance_w + at) : acceptance_w;
    }
  }
  if (use.optional_loads > 0) {
    const Pack given_up_wh = add_optional_loads(use, at, stored_wh, needs);
    if (sums) add_to(out.given_up_wh + at, given_up_wh);
  }
  if constexpr (kPower != Power::none) acceptance_w = acceptance_of(plan, stored_wh, acceptance_w);

  Flow flow;
  Pack shortfall_wh, draw_wh, from_battery_w;
  if constexpr (!kOutside) {
    const Inverted r = inverted_of(plan, needs, false);
    draw_wh = draw_of(r, needs, all(0.0));
    shortfall_wh = r.overload_w;
    from_battery_w = r.inverted_w;
    if constexpr (kPower == Power::own) {
      flow = step<true>(plan, needs, needs.panels_w + needs.vehicle_w - draw_wh, acceptance_w,
                        stored_wh);
      if (sums) add_to(out.spilled_wh + at, larger(all(0.0), flow.gap_wh));
    } else {
      flow = step<false>(plan, needs, -draw_wh, acceptance_w, stored_wh);
    }
  } else {
    const Rates r = rates_of(
        plan, needs, kPower == Power::mains ? mains_of(plan) : generator_of(plan), acceptance_w);
    Pack x = all(hour.at_camp);
    if constexpr (kPower == Power::generator) {
      x = run_generator(plan, hour, needs, r, at, stored_wh, state, out);
    }
    const Pack offered_wh = x * r.charger_w;
    draw_wh = draw_of(r, needs, x);
    shortfall_wh = r.overload_w + x * (r.inverted_w - r.carried_w);
    from_battery_w = (1.0 - x) * r.inverted_w;
    flow = step<true>(plan, needs, needs.panels_w + needs.vehicle_w + offered_wh - draw_wh,
                      acceptance_w, stored_wh);
    if (sums) {
      // What finds no place is held back at the charger first, then spilled.
      const Pack left_wh = larger(all(0.0), flow.gap_wh);
      const Pack held_back_wh = smaller(left_wh, offered_wh);
      add_to(out.spilled_wh + at, left_wh - held_back_wh);
      if constexpr (kPower == Power::generator) {
        const Pack load_kwh =
            (x * r.carried_w + (offered_wh - held_back_wh) * plan.per_charger_efficiency) * 0.001;
        const Pack fuel_l = x * plan.fuel_l_per_h_idle + load_kwh * plan.fuel_l_per_kwh;
        add_to(out.fuel_l + at, x > 0.0 ? fuel_l : all(0.0));
      }
    }
  }
  const unsigned long long flat = bits_of(flow.flat);
  flat_row |= flat << at;
  store(state.stored_wh + at, flow.stored_after_wh);
  if (plan.powerless_differs) store_mask(state.was_flat + at, flow.flat);
  if (!sums) return;
  // Energy is short only where the battery is flat, unless its limit can be too low.
  const bool any_short =
      flat != 0 || (plan.may_overdraw && bits_of(flow.gap_wh < -kServed_wh) != 0);
  if (any_short) {
    const Pack short_wh = -flow.gap_wh;
    const Pack served = short_wh > kServed_wh ? 1.0 - short_wh / draw_wh : all(1.0);
    shortfall_wh += (1.0 - served) * (needs.dc_w + from_battery_w);
  }
  if (any_short || kOutside || plan.may_overload) add_to(out.shortfall_wh + at, shortfall_wh);
  constexpr double kFull = 1e-9;
  const Pack charge = flow.stored_after_wh * plan.per_usable_wh;
  store_shorts(out.charge_bin + h * kBlockStays + at, (charge + kFull) * 256.0);
}

template <Power kPower>
__attribute__((noinline)) void track_row(const KernelPlan& __restrict plan,
                                         const KernelHour& __restrict hour,
                                         const HourUse& __restrict use, int h,
                                         const HourWeather& __restrict common, bool powerless,
                                         TrackState& __restrict state,
                                         KernelTrack& __restrict out) {
  unsigned long long flat = 0;
  for (int at = 0; at < kBlockStays; at += kWidth) {
    track_hour<kPower>(plan, hour, use, h, at, common, powerless, state, out, flat);
  }
  out.flat[h] = flat;
}

void begin_track(const KernelPlan& plan, TrackState& state, KernelTrack& out) {
  for (int i = 0; i < kBlockStays; ++i) {
    state.stored_wh[i] = plan.start_wh;
    state.was_flat[i] = state.running[i] = 0;
    state.must_run_h[i] = 0.0;
    out.shortfall_wh[i] = out.given_up_wh[i] = out.spilled_wh[i] = 0.0;
    out.generator_h[i] = out.fuel_l[i] = out.starts[i] = 0.0;
  }
}

void stop_generator(TrackState& state) {
  for (int i = 0; i < kBlockStays; ++i) {
    state.running[i] = 0;
    state.must_run_h[i] = 0.0;
  }
}

void run_track_hour(const KernelPlan& plan, const KernelHour& hour, const HourUse& use, int h,
                    bool generator, const HourWeather& common, bool powerless, TrackState& state,
                    KernelTrack& out) {
  if (hour.hookup) {
    track_row<Power::mains>(plan, hour, use, h, common, powerless, state, out);
    return;
  }
  if (generator && hour.generator_allowed > 0.0) {
    track_row<Power::generator>(plan, hour, use, h, common, powerless, state, out);
    return;
  }
  if (generator) stop_generator(state);
  if (hour.lit || hour.vehicle_w > 0.0) {
    track_row<Power::own>(plan, hour, use, h, common, powerless, state, out);
  } else {
    track_row<Power::none>(plan, hour, use, h, common, powerless, state, out);
  }
}

}  // namespace

void DULLSPELL_AT_LEVEL(run_block)(const KernelPlan& plan, const KernelWeather& weather,
                                   double* power, KernelResult& out) {
  TrackState home, along;
  HourWeather common;
  begin_track(plan, home, out.home);
  if (plan.has_generator) begin_track(plan, along, out.along);
  for (double& sum : out.panels_wh) sum = 0.0;
  for (double& sum : out.wanted_wh) sum = 0.0;
  const bool wanted = out.home.charge_bin != nullptr;
  const WeatherSums sums{wanted ? out.panels_wh : nullptr, wanted ? out.wanted_wh : nullptr};
  unsigned long long flat_before = 0;
  for (int s = 0; s < plan.segments; ++s) {
    power_of_segment(plan, s, weather.k + s * kBlockStays, power);
    for (int h = plan.segment[s].first_hour; h < plan.segment[s].end_hour; ++h) {
      const bool powerless = plan.powerless_differs && flat_before != 0;
      const KernelHour& hour = plan.hour[h];
      const HourUse use = use_of(plan, weather, h);
      weather_row(plan, hour, use, weather, power, powerless, common, sums);
      run_track_hour(plan, hour, use, h, false, common, powerless, home, out.home);
      flat_before = out.home.flat[h];
      if (!plan.has_generator) continue;
      run_track_hour(plan, hour, use, h, true, common, powerless, along, out.along);
      flat_before |= out.along.flat[h];
    }
  }
  for (int i = 0; i < kBlockStays; ++i) {
    out.home.demand_wh[i] = out.wanted_wh[i] - out.home.given_up_wh[i];
    out.along.demand_wh[i] = out.wanted_wh[i] - out.along.given_up_wh[i];
  }
}

}  // namespace dullspell
