#pragma once

// The hour's arithmetic over the rows of a block, without branches but those that a whole block
// shares.

#include "engine/hour/stay_hour.hpp"
#include "engine/kernel/pack.hpp"
#include "engine/kernel/stay_block.hpp"

namespace dullspell {
namespace {

// What the weather alone decides in one hour, by stay.
struct WeatherRow {
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
#if defined(__AVX512F__)
FORCE_INLINE void transpose(Pack (&r)[8]) {
  Pack s[8];
  for (int i = 0; i < 8; i += 2) {
    s[i] = __builtin_shufflevector(r[i], r[i + 1], 0, 8, 2, 10, 4, 12, 6, 14);
    s[i + 1] = __builtin_shufflevector(r[i], r[i + 1], 1, 9, 3, 11, 5, 13, 7, 15);
  }
  for (int i = 0; i < 8; i += 4) {
    for (int j = i; j < i + 2; ++j) {
      r[j] = __builtin_shufflevector(s[j], s[j + 2], 0, 1, 8, 9, 4, 5, 12, 13);
      r[j + 2] = __builtin_shufflevector(s[j], s[j + 2], 2, 3, 10, 11, 6, 7, 14, 15);
    }
  }
  for (int j = 0; j < 4; ++j) {
    const Pack low = r[j], high = r[j + 4];
    r[j] = __builtin_shufflevector(low, high, 0, 1, 2, 3, 8, 9, 10, 11);
    r[j + 4] = __builtin_shufflevector(low, high, 4, 5, 6, 7, 12, 13, 14, 15);
  }
}
#elif defined(__AVX__)
FORCE_INLINE void transpose(Pack (&r)[4]) {
  Pack s[4];
  for (int i = 0; i < 4; i += 2) {
    s[i] = __builtin_shufflevector(r[i], r[i + 1], 0, 4, 2, 6);
    s[i + 1] = __builtin_shufflevector(r[i], r[i + 1], 1, 5, 3, 7);
  }
  for (int j = 0; j < 2; ++j) {
    r[j] = __builtin_shufflevector(s[j], s[j + 2], 0, 1, 4, 5);
    r[j + 2] = __builtin_shufflevector(s[j], s[j + 2], 2, 3, 6, 7);
  }
}
#else
FORCE_INLINE void transpose(Pack (&r)[2]) {
  const Pack first = r[0], second = r[1];
  r[0] = __builtin_shufflevector(first, second, 0, 2);
  r[1] = __builtin_shufflevector(first, second, 1, 3);
}
#endif

// Every stay's line of the tables of clearness: once a segment, so that an hour looks nothing up.
// NOLINTNEXTLINE(misc-definitions-in-headers): each instruction set has its own
[[maybe_unused]] __attribute__((noinline)) void power_of_segment(const HourTables& tables,
                                                                 int segment, const double* k,
                                                                 double* power) {
  const SegmentHours& in = tables.segment[segment];
  const int begin = 2 * in.lit_from / kWidth * kWidth;
  for (int at = 0; at < kBlockStays; at += kWidth) {
    const Pack position =
        clamped<Pack>(load(k + at), all<Pack>(0.0), all<Pack>(1.0)) * double{kNodesPerUnit};
    int node[kWidth];
    Pack weight[kWidth];
    for (int i = 0; i < kWidth; ++i) {
      node[i] = static_cast<int>(position[i]);
      node[i] = node[i] < kClearnessNodes - 2 ? node[i] : kClearnessNodes - 2;
      weight[i] = all<Pack>(position[i] - node[i]);
    }
    for (int c = 0; c < tables.controllers; ++c) {
      double* out = power + c * kPowerColumns * kBlockStays + at;
      for (int column = begin; column < 2 * in.lit_to; column += kWidth) {
        Pack rows[kWidth];
        for (int i = 0; i < kWidth; ++i) {
          const Pack low = load(in.power[c].row[node[i]] + column);
          const Pack high = load(in.power[c].row[node[i] + 1] + column);
          rows[i] = low + weight[i] * (high - low);
        }
        transpose(rows);
        for (int i = 0; i < kWidth; ++i) store(out + (column + i) * kBlockStays, rows[i]);
      }
    }
  }
}

FORCE_INLINE Pack panels_of(const HourTables& tables, const HourSlot& slot, const double* power,
                            Pack air_c) {
  Pack sum_w = all<Pack>(0.0);
  for (int c = 0; c < tables.controllers; ++c) {
    const double* line = power + (c * kPowerColumns + 2 * slot.hour_of_day) * kBlockStays;
    sum_w += controller_power_w<Pack>(load(line), load(line + kBlockStays), air_c,
                                      tables.controller_limit_w[c]);
  }
  return sum_w * slot.at_camp;
}

// Loads that vary or may be given up in one hour.
struct HourUse {
  const double* load_w;  // [load]
  const double* use;     // [load][stay]
};

FORCE_INLINE HourUse use_of(const HourTables& tables, const KernelWeather& weather, int h) {
  return {tables.load_w + h * tables.loads,
          weather.use + tables.hour[h].segment.value * tables.loads * kBlockStays};
}

// Of the stays from `at` on.
struct UseOfStays {
  const double* use;
  int at;
  FORCE_INLINE Pack operator()(int i) const { return load(use + i * kBlockStays + at); }
};

// Sums over the hours of a block's stays.
struct WeatherSums {
  double* panels_wh;
  double* wanted_wh;  // by all loads
};

// Temperatures that the stays of a block have on one segment.
struct SegmentReach {
  double coldest_mean_c, warmest_mean_c, least_range_c, greatest_range_c;
};

FORCE_INLINE void extremes_of(const double* row, double& least, double& greatest) {
  Pack low = load(row), high = low;
  for (int at = kWidth; at < kBlockStays; at += kWidth) {
    low = smaller<Pack>(low, load(row + at));
    high = larger<Pack>(high, load(row + at));
  }
  least = low[0];
  greatest = high[0];
  for (int i = 1; i < kWidth; ++i) {
    least = smaller<double>(least, low[i]);
    greatest = larger<double>(greatest, high[i]);
  }
}

[[maybe_unused]] __attribute__((noinline)) SegmentReach reach_of(const KernelWeather& weather,
                                                                 int segment) {
  SegmentReach out;
  extremes_of(weather.temp_mean_c + segment * kBlockStays, out.coldest_mean_c, out.warmest_mean_c);
  extremes_of(weather.temp_range_c + segment * kBlockStays, out.least_range_c,
              out.greatest_range_c);
  return out;
}

// What such temperatures leave of one hour's straight lines. It changes no bit: a line that is left
// out is never the lowest, a piece never begun or always whole.
struct RowReach {
  FridgeModel fridge;
  int cold_line, powerless_cold_line;
  bool held_by_cold, powerless_held_by_cold;
};

// Temperatures inside never fall where it is warmer outside.
FORCE_INLINE RowReach reach_of(const HourTables& tables, const HourSlot& slot,
                               const SegmentReach& segment) {
  const double swing = slot.temperature_swing;
  const bool afternoon = swing >= 0.0;
  const double coldest_c = segment.coldest_mean_c +
                           (afternoon ? segment.least_range_c : segment.greatest_range_c) * swing;
  const double warmest_c = segment.warmest_mean_c +
                           (afternoon ? segment.greatest_range_c : segment.least_range_c) * swing;
  const Cabin<double> coldest = cabin_at<double>(tables.furnace, slot.hour_of_day, coldest_c);
  const Cabin<double> warmest = cabin_at<double>(tables.furnace, slot.hour_of_day, warmest_c);
  const BatteryModel& battery = tables.battery;
  const double cells_c = tables.battery_outside ? coldest_c : coldest.held_c;
  const double powerless_c = tables.battery_outside ? coldest_c : coldest.drifting_c;
  return {reached_pieces(tables.fridge, coldest.held_c, warmest.held_c), first_cold_line(cells_c),
          first_cold_line(powerless_c), may_be_held_by_cold(battery, cells_c),
          may_be_held_by_cold(battery, powerless_c)};
}

FORCE_INLINE Pack cold_limit_w(const BatteryModel& battery, bool held_by_cold, Pack battery_c) {
  return held_by_cold ? cold_acceptance_w<Pack>(battery, battery_c) : all<Pack>(kInfinite);
}

// Functions over a row of stays are functions of their own, so that the compiler keeps each loop's
// registers to itself, and their arguments do not overlap: else it would read the plan again after
// each store.

// `powerless`: some stay was flat in the hour before.
// NOLINTNEXTLINE(misc-definitions-in-headers): each instruction set has its own
[[maybe_unused]] __attribute__((noinline)) void weather_row(
    const HourTables& __restrict tables, const HourSlot& __restrict slot,
    const HourUse& __restrict use, const KernelWeather& __restrict weather,
    const SegmentReach& __restrict segment, const double* power, bool powerless,
    WeatherRow& __restrict out, const WeatherSums& __restrict sums) {
  const bool may_charge = slot.may_charge();
  const RowReach reach = reach_of(tables, slot, segment);
  const BatteryModel& battery = tables.battery;
  for (int at = 0; at < kBlockStays; at += kWidth) {
    const int row = slot.segment.value * kBlockStays + at;
    const Pack air_c =
        load(weather.temp_mean_c + row) + load(weather.temp_range_c + row) * slot.temperature_swing;
    const HourWeather<Pack> hour =
        hour_weather<Pack>(tables, reach.fridge, slot, use.load_w, UseOfStays{use.use, at}, air_c);
    store(out.dc_w + at, hour.dc_w);
    store(out.ac_w + at, hour.ac_w);
    if (sums.wanted_wh) add_to(sums.wanted_wh + at, hour.dc_w + hour.ac_w + hour.optional_w);
    store(out.cut_off_wh + at, cut_off_wh<Pack>(battery, hour.battery_c, reach.cold_line));
    if (may_charge) {
      const Pack panels_w =
          slot.panels_lit ? panels_of(tables, slot, power + at, air_c) : all<Pack>(0.0);
      store(out.panels_w + at, panels_w);
      store(out.cold_acceptance_w + at, cold_limit_w(battery, reach.held_by_cold, hour.battery_c));
      if (slot.panels_lit && sums.panels_wh) add_to(sums.panels_wh + at, panels_w);
    }
    if (powerless) {
      store(out.powerless_cut_off_wh + at,
            cut_off_wh<Pack>(battery, hour.powerless_c, reach.powerless_cold_line));
      store(out.powerless_cold_acceptance_w + at,
            cold_limit_w(battery, reach.powerless_held_by_cold, hour.powerless_c));
    }
  }
}

// Without charging nothing asks for the panels, or for what the battery accepts.
FORCE_INLINE Needs<Pack> needs_of(const WeatherRow& common, const HourSlot& slot, int at,
                                  Charging charging) {
  return {load(common.dc_w + at),
          load(common.ac_w + at),
          charging == Charging::maybe ? load(common.panels_w + at) : all<Pack>(0.0),
          load(common.cut_off_wh + at),
          slot.vehicle_w,
          slot.inverter_on};
}

FORCE_INLINE Pack cold_limit_of(const WeatherRow& common, int at, Charging charging) {
  return charging == Charging::maybe ? load(common.cold_acceptance_w + at) : all<Pack>(0.0);
}

FORCE_INLINE const OutsidePower& outside_of(const HourTables& tables, const HourSlot& slot) {
  return slot.source == Source::mains ? tables.mains : tables.generator.power;
}

}  // namespace
}  // namespace dullspell
