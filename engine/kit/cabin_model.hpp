#pragma once

#include "engine/hour/number.hpp"

namespace dullspell {

/// A cabin without a furnace is lived in all the same, and never colder.
constexpr double kLivedIn_c = 15.0;

/// One window of one clock hour in which the furnace holds a temperature.
struct HoldShare {
  double share;  ///< of the hour
  double set_point_c;
};

/// A furnace as the hour's arithmetic takes it, its windows cut into clock hours: those of hour h
/// are hold[hold_begin[h]] .. hold[hold_begin[h + 1] - 1].
struct FurnaceModel {
  bool present;
  double blower_w, heat_loss_w_per_k, gains_w;
  double per_output_w;
  double gains_k, output_and_gains_k;  ///< by which gains, or they and the furnace, warm the cabin
  bool has_other_heat;
  double other_heat_c;
  const HoldShare* hold;
  int hold_begin[25];
  double unheld_share[24];
};

/// Straight piece of a compressor fridge's power over the ambient temperature.
struct FridgePiece {
  double from_c, length_k, w_per_k;
};

/// A fridge as the hour's arithmetic takes it: constant before the first piece and after the last.
struct FridgeModel {
  bool present;
  bool ac;  ///< behind the inverter
  double coldest_w;
  const FridgePiece* piece;
  int pieces;
};

/// What the outdoor temperature of one hour means inside.
template <class N>
struct Cabin {
  N furnace_w;   ///< blower, averaged over the hour
  N held_c;      ///< cabin with the furnace working
  N drifting_c;  ///< cabin if the furnace has no power
};

/// Furnace duty = (heat loss to the outdoors at the set-point - gains) / output, 0..1. Outside its
/// windows the cabin is at `other_heat_c`, else gains / heat loss above the outdoors; a set-point
/// never cools. Without a furnace the cabin is kept at kLivedIn_c or warmer by other means.
template <class N>
FORCE_INLINE Cabin<N> cabin_at(const FurnaceModel& furnace, int hour_of_day, N air_c) {
  const N lived_in_c = larger<N>(all<N>(kLivedIn_c), air_c);
  Cabin<N> cabin{all<N>(0.0), lived_in_c, lived_in_c};
  if (!furnace.present) return cabin;
  const N unheated_c = air_c + furnace.gains_k;
  const N otherwise_c =
      furnace.has_other_heat ? larger<N>(all<N>(furnace.other_heat_c), unheated_c) : unheated_c;
  cabin.held_c = cabin.drifting_c = otherwise_c;
  const int first = furnace.hold_begin[hour_of_day], end = furnace.hold_begin[hour_of_day + 1];
  if (first == end) return cabin;
  // Most hours are held all through, or not at all: their shares are 1 and 0, and ask for nothing.
  const double unheld = furnace.unheld_share[hour_of_day];
  const bool whole = first + 1 == end && furnace.hold[first].share == 1.0;
  const N warmest_c = air_c + furnace.output_and_gains_k;
  cabin.held_c = unheld * otherwise_c;
  cabin.drifting_c = whole ? unheated_c : unheld * otherwise_c + (1.0 - unheld) * unheated_c;
  for (int i = first; i < end; ++i) {
    const HoldShare& hold = furnace.hold[i];
    const N heat_w = furnace.heat_loss_w_per_k * (hold.set_point_c - air_c) - furnace.gains_w;
    const N duty = clamped<N>(heat_w * furnace.per_output_w, all<N>(0.0), all<N>(1.0));
    const N held_c = clamped<N>(all<N>(hold.set_point_c), unheated_c, warmest_c);
    if (whole) {
      cabin.furnace_w = duty * furnace.blower_w;
      cabin.held_c = held_c;
    } else {
      cabin.furnace_w += hold.share * duty * furnace.blower_w;
      cabin.held_c += hold.share * held_c;
    }
  }
  return cabin;
}

/// Power of the fridge averaged over an hour, W.
template <class N>
FORCE_INLINE N fridge_w(const FridgeModel& fridge, N ambient_c) {
  N power_w = all<N>(fridge.coldest_w);
  for (int i = 0; i < fridge.pieces; ++i) {
    const FridgePiece& piece = fridge.piece[i];
    power_w +=
        piece.w_per_k * clamped<N>(ambient_c - piece.from_c, all<N>(0.0), all<N>(piece.length_k));
  }
  return power_w;
}

/// The pieces that ambients of `lowest_c` to `highest_c` reach: the same power there, to the bit.
FORCE_INLINE FridgeModel reached_pieces(FridgeModel fridge, double lowest_c, double highest_c) {
  while (fridge.pieces > 0 && lowest_c - fridge.piece->from_c >= fridge.piece->length_k) {
    fridge.coldest_w += fridge.piece->w_per_k * fridge.piece->length_k;
    ++fridge.piece;
    --fridge.pieces;
  }
  while (fridge.pieces > 0 && highest_c <= fridge.piece[fridge.pieces - 1].from_c) --fridge.pieces;
  return fridge;
}

}  // namespace dullspell
