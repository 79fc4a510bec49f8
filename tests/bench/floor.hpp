#pragma once

// Plain data only, for the reason that stay_block.hpp gives.

#include "engine/kernel/stay_block.hpp"

namespace dullspell::bench {

/// What no study of a plan can leave out: its normal draws, a bare battery on two tracks, and a
/// histogram of charge by hour. No physics: net energy is a straight line in the day's draws.
constexpr int kFloorStays = 512;  ///< side by side; their state stays in the first cache
constexpr int kFloorBins = 257;   ///< as ChargeHistogram's

/// Energies in bins of charge: 256 fill the battery.
struct FloorHour {
  int day;
  double net, net_per_draw;
  double generator;  ///< on the second track
};

struct FloorPlan {
  int hours, days, varying_loads;
  const FloorHour* hour;
  unsigned long long seed;
  unsigned year_purpose, weather_purpose, load_purpose;
};

/// Runs stays `first` .. `first` + kFloorStays - 1. `draws` is room for [day][kFloorStays] values,
/// aligned to 64 bytes; `counts` is [hour][track][bin].
using Floor = void (*)(const FloorPlan&, BlockNormals, unsigned first, double* draws,
                       unsigned* counts);

void run_floor_baseline(const FloorPlan& plan, BlockNormals normals, unsigned first, double* draws,
                        unsigned* counts);
void run_floor_v3(const FloorPlan& plan, BlockNormals normals, unsigned first, double* draws,
                  unsigned* counts);
void run_floor_v4(const FloorPlan& plan, BlockNormals normals, unsigned first, double* draws,
                  unsigned* counts);

}  // namespace dullspell::bench
