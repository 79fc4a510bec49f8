#pragma once

#include "engine/hour/number.hpp"

namespace dullspell {

/// Straight line over the cell's temperature.
struct ColdLine {
  double at_0_c, per_k;
};

/// Lines through the trade's points of the capacity that a cold lithium battery still gives: 0.60
/// at -20 C, 0.75 at -10 C, 0.88 at 0 C, 0.96 at 10 C, 1.00 at 25 C. In order of temperature; each
/// is the lowest from where it meets the one before.
constexpr int kColdLineCount = 4;
constexpr ColdLine kColdLines[kColdLineCount] = {
    {0.90, 0.015}, {0.88, 0.013}, {0.88, 0.008}, {0.96 - 10.0 * 0.04 / 15.0, 0.04 / 15.0}};
constexpr double kColdestShare = 0.60;

/// Temperature up to which line `i` is the lowest, or counts at all.
constexpr double cold_line_ends_c(int i) {
  const ColdLine line = kColdLines[i];
  const ColdLine next = i + 1 < kColdLineCount ? kColdLines[i + 1] : ColdLine{1.0, 0.0};
  return (next.at_0_c - line.at_0_c) / (line.per_k - next.per_k);
}
constexpr double kColdLineEnds_c[kColdLineCount] = {cold_line_ends_c(0), cold_line_ends_c(1),
                                                    cold_line_ends_c(2), cold_line_ends_c(3)};

/// First line that matters where the battery is never colder than `coldest_c`. A degree of margin
/// covers the rounding of the ends.
FORCE_INLINE int first_cold_line(double coldest_c) {
  int first = 0;
  while (first < kColdLineCount && kColdLineEnds_c[first] < coldest_c - 1.0) ++first;
  return first;
}

/// So far above `charge_min_c` the cold holds a charge back.
constexpr double kColdCharge_k = 5.0;

/// A battery as the hour's arithmetic takes it: plain numbers, reciprocals taken once (`per_x` is
/// 1 / x). battery_model() makes it.
struct BatteryModel {
  double usable_wh, per_usable_wh;  ///< between empty and full at 25 C
  double capacity_wh;               ///< as it is now: label times health
  double start_wh;
  double charge_efficiency, per_charge_efficiency;
  double discharge_efficiency, per_discharge_efficiency;
  double charge_limit_w, discharge_limit_w;
  double taper_from_wh;
  bool tapers;              ///< acceptance falls from `charge_limit_w` with what is stored
  bool full_accepts_less;   ///< without a limit to fall from only a full battery accepts less
  double taper_at_empty_w;  ///< the falling line, drawn on down to an empty battery
  double taper_w_per_wh, taper_least_w;
  double charge_min_c;
  double kept_per_h, per_kept_per_h;

  // What a plan cannot reach is decided once, so that no hour asks for it.
  bool may_overdraw;  ///< loads can ask for more than the discharge limit
};

/// Stored energy at which the battery cuts off: what the cold withholds of the usable energy. The
/// share that it still gives is the lowest of kColdLines, constant below -20 C and above 25 C;
/// lines before `first_cold_line` may be left out.
template <class N>
FORCE_INLINE N cut_off_wh(const BatteryModel& battery, N battery_c, int first_cold_line = 0) {
  N share = all<N>(1.0);
  for (int i = first_cold_line; i < kColdLineCount; ++i) {
    share = smaller<N>(share, kColdLines[i].at_0_c + kColdLines[i].per_k * battery_c);
  }
  return (1.0 - larger<N>(all<N>(kColdestShare), share)) * battery.usable_wh;
}

/// Whether the cold may hold a charge back where the battery is never colder than `coldest_c`.
FORCE_INLINE bool may_be_held_by_cold(const BatteryModel& battery, double coldest_c) {
  return coldest_c < battery.charge_min_c + kColdCharge_k;
}

/// What the cold lets a battery accept, W: nothing below `charge_min_c`, 0.1 to 0.2 of the capacity
/// per hour within kColdCharge_k above it, no limit in the warm.
template <class N>
FORCE_INLINE N cold_acceptance_w(const BatteryModel& battery, N battery_c) {
  const N above_k = battery_c - battery.charge_min_c;
  const N cold_w = (0.1 + (0.1 / kColdCharge_k) * above_k) * battery.capacity_wh;
  const N limit_w = select<N>(above_k < kColdCharge_k, cold_w, all<N>(kInfinite));
  return select<N>(battery_c < battery.charge_min_c, all<N>(0.0), limit_w);
}

/// Charge that the battery accepts at its terminals, W: the stated limit, falling linearly from
/// `taper_from` to `taper_to_c_rate` at full, and no more than the cold allows.
template <class N>
FORCE_INLINE N acceptance_w(const BatteryModel& battery, N stored_wh, N cold_w) {
  N limit_w = all<N>(battery.charge_limit_w);
  if (battery.tapers) {
    limit_w = smaller<N>(limit_w, battery.taper_at_empty_w - battery.taper_w_per_wh * stored_wh);
  } else if (battery.full_accepts_less) {
    limit_w = select<N>(stored_wh >= battery.usable_wh, all<N>(battery.taper_least_w), limit_w);
  }
  return smaller<N>(limit_w, cold_w);
}

}  // namespace dullspell
