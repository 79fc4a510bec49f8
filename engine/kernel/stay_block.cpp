// Compiled once for each instruction set; DULLSPELL_LEVEL ends the names that it defines.
#include "engine/kernel/stay_block.hpp"

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

template <Power kPower>
struct TrackHour {
  static constexpr bool kOutside = kPower == Power::mains || kPower == Power::generator;
  static constexpr Charging kCharging = kPower == Power::none ? Charging::never : Charging::maybe;

  const HourTables& tables;
  const HourSlot& slot;
  const HourUse& use;
  const WeatherRow& common;
  bool powerless;
  int h, at;
  TrackState& state;
  KernelTrack& out;

  // Runs the stays from `at` on; returns those that are flat, a bit each.
  FORCE_INLINE unsigned long long run() const {
    const bool sums = out.charge_bin != nullptr;
    const Pack stored_wh = load(state.stored_wh + at);
    Needs<Pack> needs = needs_of(common, slot, at, kCharging);
    Pack cold_w = cold_limit_of(common, at, kCharging);
    if (powerless) feel_powerless(needs, cold_w);
    if (tables.optional_loads > 0) {
      const Pack given_up_wh =
          add_optional_loads<Pack>(tables, use.load_w, UseOfStays{use.use, at}, stored_wh, needs);
      if (sums) add_to(out.given_up_wh + at, given_up_wh);
    }
    Pack accepted_w = all<Pack>(0.0);
    if constexpr (kPower != Power::none) {
      accepted_w = acceptance_w<Pack>(tables.battery, stored_wh, cold_w);
    }
    HourOutcome<Pack> hour{};
    if constexpr (kOutside) {
      hour = with_outside(needs, accepted_w, stored_wh, sums);
    } else {
      hour = hour_alone<kCharging, Pack>(tables, needs, accepted_w, stored_wh);
      if (kPower == Power::own && sums) {
        add_to(out.spilled_wh + at, larger<Pack>(all<Pack>(0.0), hour.battery.gap_wh));
      }
    }
    const unsigned long long flat = bits_of(hour.battery.flat);
    store(state.stored_wh + at, hour.battery.stored_after_wh);
    if (tables.powerless_differs) store_mask(state.was_flat + at, hour.battery.flat);
    if (sums) {
      count_shortfall(needs, hour, flat);
      count_charge(hour);
    }
    return flat;
  }

 private:
  FORCE_INLINE void feel_powerless(Needs<Pack>& needs, Pack& cold_w) const {
    const Mask was_flat = load_mask(state.was_flat + at);
    needs.cut_off_wh =
        select<Pack>(was_flat, load(common.powerless_cut_off_wh + at), needs.cut_off_wh);
    if constexpr (kPower != Power::none) {
      cold_w = select<Pack>(was_flat, load(common.powerless_cold_acceptance_w + at), cold_w);
    }
  }

  FORCE_INLINE HourOutcome<Pack> with_outside(const Needs<Pack>& needs, Pack accepted_w,
                                              Pack stored_wh, bool sums) const {
    const Rates<Pack> rates =
        rates_of<Pack>(tables.inverter, needs,
                       kPower == Power::mains ? tables.mains : tables.generator.power, accepted_w);
    Pack x = all<Pack>(slot.source_share);
    if constexpr (kPower == Power::generator) x = generator_share(needs, rates, stored_wh);
    const HourOutcome<Pack> hour =
        hour_with_outside<Pack>(tables, needs, rates, x, accepted_w, stored_wh);
    if (sums) {
      const Surplus<Pack> surplus = surplus_of<Pack>(hour);
      add_to(out.spilled_wh + at, surplus.spilled_wh);
      if constexpr (kPower == Power::generator) {
        const Pack fuel = fuel_l<Pack>(tables.generator, x, x * rates.carried_w,
                                       hour.offered_wh - surplus.held_back_wh);
        add_to(out.fuel_l + at, select<Pack>(x > 0.0, fuel, all<Pack>(0.0)));
      }
    }
    return hour;
  }

  FORCE_INLINE Pack generator_share(const Needs<Pack>& needs, const Rates<Pack>& rates,
                                    Pack stored_wh) const {
    GeneratorState<Pack> generator{load_mask(state.running + at), load(state.must_run_h + at)};
    const GeneratorHour<Pack> ran =
        run_generator<Pack>(tables, slot, needs, rates, stored_wh, generator);
    store_mask(state.running + at, generator.running);
    store(state.must_run_h + at, generator.must_run_h);
    add_to(out.starts + at, select<Pack>(ran.started, all<Pack>(1.0), all<Pack>(0.0)));
    add_to(out.generator_h + at, ran.share);
    return ran.share;
  }

  // Energy is short only where the battery is flat, unless its limit can be too low.
  FORCE_INLINE void count_shortfall(const Needs<Pack>& needs, const HourOutcome<Pack>& hour,
                                    unsigned long long flat) const {
    Pack shortfall_wh = hour.unserved_ac_wh;
    const bool any_short = flat != 0 || (tables.battery.may_overdraw &&
                                         bits_of(hour.battery.gap_wh < -kServed_wh) != 0);
    if (any_short) {
      const Pack served = served_share<Pack>(hour.battery.gap_wh, hour.draw_wh);
      shortfall_wh += (1.0 - served) * (needs.dc_w + hour.from_battery_ac_w);
    }
    if (any_short || kOutside || tables.inverter.may_overload) {
      add_to(out.shortfall_wh + at, shortfall_wh);
    }
  }

  FORCE_INLINE void count_charge(const HourOutcome<Pack>& hour) const {
    constexpr double kFull = 1e-9;
    const Pack charge = hour.battery.stored_after_wh * tables.battery.per_usable_wh;
    store_shorts(out.charge_bin + h * kBlockStays + at, (charge + kFull) * 256.0);
  }
};

template <Power kPower>
__attribute__((noinline)) void track_row(const HourTables& __restrict tables,
                                         const HourSlot& __restrict slot,
                                         const HourUse& __restrict use, int h,
                                         const WeatherRow& __restrict common, bool powerless,
                                         TrackState& __restrict state,
                                         KernelTrack& __restrict out) {
  unsigned long long flat = 0;
  for (int at = 0; at < kBlockStays; at += kWidth) {
    const TrackHour<kPower> hour{tables, slot, use, common, powerless, h, at, state, out};
    flat |= hour.run() << at;
  }
  out.flat[h] = flat;
}

void begin_track(const HourTables& tables, TrackState& state, KernelTrack& out) {
  for (int i = 0; i < kBlockStays; ++i) {
    state.stored_wh[i] = tables.battery.start_wh;
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

enum class Track { home, along };

template <Track kTrack>
void run_track_hour(const HourTables& tables, int h, const HourUse& use, const WeatherRow& common,
                    bool powerless, TrackState& state, KernelTrack& out) {
  const HourSlot& slot = tables.hour[h];
  if constexpr (kTrack == Track::along) {
    if (slot.source == Source::generator) {
      track_row<Power::generator>(tables, slot, use, h, common, powerless, state, out);
      return;
    }
    stop_generator(state);
  }
  if (slot.source == Source::mains) {
    track_row<Power::mains>(tables, slot, use, h, common, powerless, state, out);
  } else if (slot.panels_lit || slot.vehicle_w > 0.0) {
    track_row<Power::own>(tables, slot, use, h, common, powerless, state, out);
  } else {
    track_row<Power::none>(tables, slot, use, h, common, powerless, state, out);
  }
}

}  // namespace

void DULLSPELL_AT_LEVEL(run_block)(const HourTables& tables, const KernelWeather& weather,
                                   double* power, KernelResult& out) {
  const bool with_generator = tables.generator.present;
  // Rows are written before they are read; zeros would hide one that is not.
  TrackState home, along;  // NOLINT(cppcoreguidelines-pro-type-member-init)
  WeatherRow common;       // NOLINT(cppcoreguidelines-pro-type-member-init)
  begin_track(tables, home, out.home);
  if (with_generator) begin_track(tables, along, out.along);
  for (double& sum : out.panels_wh) sum = 0.0;
  for (double& sum : out.wanted_wh) sum = 0.0;
  const bool wanted = out.home.charge_bin != nullptr;
  const WeatherSums sums{wanted ? out.panels_wh : nullptr, wanted ? out.wanted_wh : nullptr};
  unsigned long long flat_before = 0;
  for (int s = 0; s < tables.segments; ++s) {
    power_of_segment(tables, s, weather.k + s * kBlockStays, power);
    const SegmentReach reach = reach_of(weather, s);
    for (int h = tables.segment[s].first_hour; h < tables.segment[s].end_hour; ++h) {
      const bool powerless = tables.powerless_differs && flat_before != 0;
      const HourUse use = use_of(tables, weather, h);
      weather_row(tables, tables.hour[h], use, weather, reach, power, powerless, common, sums);
      run_track_hour<Track::home>(tables, h, use, common, powerless, home, out.home);
      flat_before = out.home.flat[h];
      if (!with_generator) continue;
      run_track_hour<Track::along>(tables, h, use, common, powerless, along, out.along);
      flat_before |= out.along.flat[h];
    }
  }
  for (int i = 0; i < kBlockStays; ++i) {
    out.home.demand_wh[i] = out.wanted_wh[i] - out.home.given_up_wh[i];
    out.along.demand_wh[i] = out.wanted_wh[i] - out.along.given_up_wh[i];
  }
}

}  // namespace dullspell
