// Compiled once for each instruction set; DULLSPELL_LEVEL ends the names that it defines.
#include "engine/kernel/block_hour.hpp"

namespace dullspell {
namespace {

FORCE_INLINE Charging charging_in(const HourSlot& slot) {
  return slot.may_charge() ? Charging::maybe : Charging::never;
}

// As StayRunner::find_needed_energy: what each stay must hold before the hour, outside power
// running for the share `x` of it.
__attribute__((noinline)) void need_row(const HourTables& __restrict tables,
                                        const HourSlot& __restrict slot,
                                        const HourUse& __restrict use,
                                        const WeatherRow& __restrict common, double x,
                                        const double* after_wh, double* before_wh) {
  const Charging charging = charging_in(slot);
  for (int at = 0; at < kBlockStays; at += kWidth) {
    Pack least_wh = all<Pack>(kInfinite);
    for (int i = 0; i <= tables.optional_loads; ++i) {
      Needs<Pack> needs = needs_of(common, slot, at, charging);
      add_optional_loads<Pack>(tables, use.load_w, UseOfStays{use.use, at}, least_wh, needs);
      least_wh =
          least_stored_wh<Pack>(tables.battery, tables.inverter, needs, outside_of(tables, slot), x,
                                cold_limit_of(common, at, charging), load(after_wh + at));
    }
    store(before_wh + at, smaller<Pack>(least_wh, all<Pack>(tables.battery.usable_wh)));
  }
}

// As StayRunner::least_hours, one hour: runs the generator as long as what is needed after it asks.
// Returns the stays that go flat, a bit each.
__attribute__((noinline)) unsigned long long run_row(const HourTables& __restrict tables,
                                                     const HourSlot& __restrict slot,
                                                     const HourUse& __restrict use,
                                                     const WeatherRow& __restrict common,
                                                     const double* needed_after_wh,
                                                     double* stored_row, double* sum_h) {
  const Charging charging = charging_in(slot);
  unsigned long long flat = 0;
  for (int at = 0; at < kBlockStays; at += kWidth) {
    const Pack stored_wh = load(stored_row + at);
    Needs<Pack> needs = needs_of(common, slot, at, charging);
    add_optional_loads<Pack>(tables, use.load_w, UseOfStays{use.use, at}, stored_wh, needs);
    const Pack accepted_w =
        acceptance_w<Pack>(tables.battery, stored_wh, cold_limit_of(common, at, charging));
    HourOutcome<Pack> hour{};
    if (slot.source == Source::none) {
      hour = hour_alone<Charging::maybe, Pack>(tables, needs, accepted_w, stored_wh);
    } else {
      const Rates<Pack> rates =
          rates_of<Pack>(tables.inverter, needs, outside_of(tables, slot), accepted_w);
      Pack x = all<Pack>(slot.source_share);
      if (slot.source == Source::generator) {
        const Pack target_wh = larger<Pack>(
            load(needed_after_wh + at) * tables.battery.per_kept_per_h, needs.cut_off_wh);
        x = share_to_reach<Pack>(tables.battery, needs, rates, slot.source_share, stored_wh,
                                 target_wh);
        add_to(sum_h + at, x);
      }
      hour = hour_with_outside<Pack>(tables, needs, rates, x, accepted_w, stored_wh);
    }
    store(stored_row + at, hour.battery.stored_after_wh);
    flat |= bits_of(hour.battery.flat) << at;
  }
  return flat;
}

// What stays need at the end of the hour if the generator rests until its window's end, and before
// the hour if it rests in this one.
void rest(const HourTables& tables, const HourUse& use, const WeatherRow& common, int h,
          const NeededEnergy& out) {
  const HourSlot& slot = tables.hour[h];
  if (slot.source != Source::generator) return;
  const double* needed_after_wh = out.before_wh + (h + 1) * kBlockStays;
  double* after_wh = out.after_wh + h * kBlockStays;
  // Within a window the hour that follows has already told; its end needs what any hour needs.
  if (h + 1 == tables.hours || tables.hour[h + 1].source != Source::generator) {
    for (int i = 0; i < kBlockStays; ++i) after_wh[i] = needed_after_wh[i];
  }
  need_row(tables, slot, use, common, 0.0, needed_after_wh, out.resting_wh + h * kBlockStays);
  if (h > 0 && tables.hour[h - 1].source == Source::generator) {
    need_row(tables, slot, use, common, 0.0, after_wh, out.after_wh + (h - 1) * kBlockStays);
  }
}

void find_needed_energy(const HourTables& tables, const KernelWeather& weather, double* power,
                        const NeededEnergy& out) {
  // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init): written before it is read
  WeatherRow common;
  double* end_wh = out.before_wh + tables.hours * kBlockStays;
  for (int i = 0; i < kBlockStays; ++i) end_wh[i] = 0.0;
  for (int s = tables.segments - 1; s >= 0; --s) {
    power_of_segment(tables, s, weather.k + s * kBlockStays, power);
    const SegmentReach reach = reach_of(weather, s);
    for (int h = tables.segment[s].end_hour - 1; h >= tables.segment[s].first_hour; --h) {
      double* before_wh = out.before_wh + h * kBlockStays;
      const HourSlot& slot = tables.hour[h];
      const HourUse use = use_of(tables, weather, h);
      weather_row(tables, slot, use, weather, reach, power, false, common, {nullptr, nullptr});
      need_row(tables, slot, use, common, slot.source_share, before_wh + kBlockStays, before_wh);
      if (out.after_wh) rest(tables, use, common, h, out);
    }
  }
}

}  // namespace

void DULLSPELL_AT_LEVEL(needed_energy)(const HourTables& tables, const KernelWeather& weather,
                                       double* power, const NeededEnergy& out) {
  find_needed_energy(tables, weather, power, out);
}

unsigned long long DULLSPELL_AT_LEVEL(least_hours)(const HourTables& tables,
                                                   const KernelWeather& weather, double* power,
                                                   double* needed_wh, double* sum_h) {
  find_needed_energy(tables, weather, power, {needed_wh, nullptr, nullptr});
  // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init): written before it is read
  WeatherRow common;
  alignas(64) double stored_wh[kBlockStays];
  for (int i = 0; i < kBlockStays; ++i) {
    stored_wh[i] = tables.battery.start_wh;
    sum_h[i] = 0.0;
  }
  unsigned long long flat = 0;
  for (int s = 0; s < tables.segments; ++s) {
    power_of_segment(tables, s, weather.k + s * kBlockStays, power);
    const SegmentReach reach = reach_of(weather, s);
    for (int h = tables.segment[s].first_hour; h < tables.segment[s].end_hour; ++h) {
      const HourUse use = use_of(tables, weather, h);
      weather_row(tables, tables.hour[h], use, weather, reach, power, false, common,
                  {nullptr, nullptr});
      flat |= run_row(tables, tables.hour[h], use, common, needed_wh + (h + 1) * kBlockStays,
                      stored_wh, sum_h);
    }
  }
  return flat;
}

}  // namespace dullspell
