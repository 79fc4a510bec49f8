// Compiled once for each instruction set; DULLSPELL_LEVEL ends the names that it defines.
#include "engine/kernel/block_hour.hpp"

namespace dullspell {
namespace {

FORCE_INLINE Needs needs_of(const HourWeather& common, const KernelHour& hour, int at) {
  return {load(common.dc_w + at),
          load(common.ac_w + at),
          hour.charging ? load(common.panels_w + at) : all(0.0),
          load(common.cut_off_wh + at),
          hour.vehicle_w,
          hour.inverter_on};
}

FORCE_INLINE Outside outside_of(const KernelPlan& plan, const KernelHour& hour) {
  return hour.hookup ? mains_of(plan) : generator_of(plan);
}

// Without charging nothing asks what the battery accepts.
FORCE_INLINE Pack cold_limit_of(const HourWeather& common, const KernelHour& hour, int at) {
  return hour.charging ? load(common.cold_acceptance_w + at) : all(0.0);
}

// As StayRunner::find_needed_energy: what each stay must hold before the hour.
__attribute__((noinline)) void need_row(const KernelPlan& __restrict plan,
                                        const KernelHour& __restrict hour,
                                        const HourUse& __restrict use,
                                        const HourWeather& __restrict common,
                                        const double* after_wh, double* before_wh) {
  const double share = hour.hookup ? hour.at_camp : hour.generator_allowed;
  for (int at = 0; at < kBlockStays; at += kWidth) {
    Pack least_wh = all(__builtin_inf());
    for (int i = 0; i <= use.optional_loads; ++i) {
      Needs needs = needs_of(common, hour, at);
      add_optional_loads(use, at, least_wh, needs);
      least_wh = least_stored_of(plan, needs, outside_of(plan, hour), share,
                                 cold_limit_of(common, hour, at), load(after_wh + at));
    }
    store(before_wh + at, smaller(least_wh, all(plan.usable_wh)));
  }
}

// As StayRunner::least_hours, one hour: runs the generator as long as what is needed after it asks.
// Returns the stays that go flat, a bit each.
__attribute__((noinline)) unsigned long long run_row(const KernelPlan& __restrict plan,
                                                     const KernelHour& __restrict hour,
                                                     const HourUse& __restrict use,
                                                     const HourWeather& __restrict common,
                                                     const double* needed_after_wh,
                                                     double* stored_row, double* sum_h) {
  unsigned long long flat = 0;
  for (int at = 0; at < kBlockStays; at += kWidth) {
    const Pack stored_wh = load(stored_row + at);
    Needs needs = needs_of(common, hour, at);
    add_optional_loads(use, at, stored_wh, needs);
    const Pack acceptance_w = acceptance_of(plan, stored_wh, cold_limit_of(common, hour, at));
    const Inverted inverted = inverted_of(plan, needs, hour.hookup);
    Pack x = all(0.0), offered_wh = all(0.0);
    if (hour.hookup || hour.generator_allowed > 0.0) {
      const Rates rates = rates_of(plan, needs, outside_of(plan, hour), acceptance_w);
      x = all(hour.at_camp);
      if (!hour.hookup) {
        const Pack target_wh =
            larger(load(needed_after_wh + at) * plan.per_kept_per_h, needs.cut_off_wh);
        x = share_to_reach(plan, needs, rates, hour.generator_allowed, stored_wh, target_wh);
        add_to(sum_h + at, x);
      }
      offered_wh = x * rates.charger_w;
    }
    const Pack net_wh = needs.panels_w + needs.vehicle_w + offered_wh - draw_of(inverted, needs, x);
    const Flow flow = step<true>(plan, needs, net_wh, acceptance_w, stored_wh);
    store(stored_row + at, flow.stored_after_wh);
    flat |= bits_of(flow.flat) << at;
  }
  return flat;
}

}  // namespace

unsigned long long DULLSPELL_AT_LEVEL(least_hours)(const KernelPlan& plan,
                                                   const KernelWeather& weather, double* power,
                                                   double* needed_wh, double* sum_h) {
  HourWeather common;
  double* end_wh = needed_wh + plan.hours * kBlockStays;
  for (int i = 0; i < kBlockStays; ++i) end_wh[i] = 0.0;
  for (int s = plan.segments - 1; s >= 0; --s) {
    power_of_segment(plan, s, weather.k + s * kBlockStays, power);
    for (int h = plan.segment[s].end_hour - 1; h >= plan.segment[s].first_hour; --h) {
      double* before_wh = needed_wh + h * kBlockStays;
      const KernelHour& hour = plan.hour[h];
      const HourUse use = use_of(plan, weather, h);
      weather_row(plan, hour, use, weather, power, false, common, {nullptr, nullptr});
      need_row(plan, hour, use, common, before_wh + kBlockStays, before_wh);
    }
  }
  alignas(64) double stored_wh[kBlockStays];
  for (int i = 0; i < kBlockStays; ++i) {
    stored_wh[i] = plan.start_wh;
    sum_h[i] = 0.0;
  }
  unsigned long long flat = 0;
  for (int s = 0; s < plan.segments; ++s) {
    power_of_segment(plan, s, weather.k + s * kBlockStays, power);
    for (int h = plan.segment[s].first_hour; h < plan.segment[s].end_hour; ++h) {
      const KernelHour& hour = plan.hour[h];
      const HourUse use = use_of(plan, weather, h);
      weather_row(plan, hour, use, weather, power, false, common, {nullptr, nullptr});
      flat |= run_row(plan, hour, use, common, needed_wh + (h + 1) * kBlockStays, stored_wh, sum_h);
    }
  }
  return flat;
}

}  // namespace dullspell
