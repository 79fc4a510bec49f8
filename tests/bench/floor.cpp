// Compiled once for each instruction set; DULLSPELL_LEVEL ends the name that it defines.
#include "tests/bench/floor.hpp"

#if defined(__SSE2__)
#include <immintrin.h>  // its functions are always inlined: none is emitted here
#endif

namespace dullspell::bench {
namespace {

// As many doubles as a register holds.
#if defined(__AVX512F__)
constexpr int kWidth = 8;
#elif defined(__AVX__)
constexpr int kWidth = 4;
#else
constexpr int kWidth = 2;
#endif
#define FORCE_INLINE inline __attribute__((always_inline))

using Pack = double __attribute__((vector_size(kWidth * sizeof(double))));
using Cells = int __attribute__((vector_size(kWidth * sizeof(int))));
using Bins = unsigned short __attribute__((vector_size(kWidth * sizeof(short)), aligned(2)));

struct Track {
  alignas(64) double charge[kFloorStays];
  alignas(64) unsigned short bin[kFloorStays];
};

// Four counts by turns, so that like stays do not wait for each other's count.
constexpr int kTurns = 4;
struct Counts {
  alignas(64) unsigned short by_turn[kTurns][kFloorBins + 31];
};

void draw(const FloorPlan& plan, BlockNormals normals, unsigned first, double* draws) {
  alignas(64) double year[kBlockStays], sky[kBlockStays], other[kBlockStays];
  for (int at = 0; at < kFloorStays; at += kBlockStays) {
    const unsigned stay = first + static_cast<unsigned>(at);
    normals(plan.seed, stay, 0, plan.year_purpose, 0, year, other);
    for (int d = 0; d < plan.days; ++d) {
      double* row = draws + d * kFloorStays + at;
      normals(plan.seed, stay, static_cast<unsigned>(d), plan.weather_purpose, 0, sky, other);
      for (int i = 0; i < kBlockStays; ++i) row[i] = year[i] + sky[i] + other[i];
      for (int load = 0; load < plan.varying_loads; ++load) {
        normals(plan.seed, stay, static_cast<unsigned>(d), plan.load_purpose,
                static_cast<unsigned>(load), sky, other);
        for (int i = 0; i < kBlockStays; ++i) row[i] -= sky[i];
      }
    }
  }
}

FORCE_INLINE Pack within(Pack charge) {
  const Pack full = kFloorBins - 1.0 - Pack{};
#if defined(__AVX512F__)
  return _mm512_maskz_min_pd(0xff, _mm512_maskz_max_pd(0xff, charge, Pack{}), full);
#elif defined(__AVX__)
  return _mm256_min_pd(_mm256_max_pd(charge, Pack{}), full);
#elif defined(__SSE2__)
  return _mm_min_pd(_mm_max_pd(charge, Pack{}), full);
#else
  charge = charge > 0.0 ? charge : Pack{};
  return charge < full ? charge : full;
#endif
}

FORCE_INLINE void move(Track& track, int at, Pack net) {
  Pack& charge = *reinterpret_cast<Pack*>(track.charge + at);
  charge = within(charge + net);
  *reinterpret_cast<Bins*>(track.bin + at) =
      __builtin_convertvector(__builtin_convertvector(charge, Cells), Bins);
}

__attribute__((noinline)) void step(const FloorHour& hour, const double* draws, Track& home,
                                    Track& along) {
  for (int at = 0; at < kFloorStays; at += kWidth) {
    const Pack draw = *reinterpret_cast<const Pack*>(draws + at);
    const Pack net = hour.net + hour.net_per_draw * draw;
    move(home, at, net);
    move(along, at, net + hour.generator);
  }
}

__attribute__((noinline)) void count(const Track& track, Counts& counts, unsigned* __restrict out) {
  counts = {};
  for (int i = 0; i < kFloorStays; i += kTurns) {
    for (int turn = 0; turn < kTurns; ++turn) ++counts.by_turn[turn][track.bin[i + turn]];
  }
  for (int b = 0; b < kFloorBins; ++b) {
    unsigned sum = 0;
    for (int turn = 0; turn < kTurns; ++turn) sum += counts.by_turn[turn][b];
    out[b] += sum;
  }
}

}  // namespace

#define NAME_AT_LEVEL(name, level) name##_##level
#define NAME_AT(name, level) NAME_AT_LEVEL(name, level)

void NAME_AT(run_floor, DULLSPELL_LEVEL)(const FloorPlan& plan, BlockNormals normals,
                                         unsigned first, double* draws, unsigned* counts) {
  draw(plan, normals, first, draws);
  Track home, along;
  Counts room;
  for (int i = 0; i < kFloorStays; ++i) home.charge[i] = along.charge[i] = kFloorBins - 1;
  for (int h = 0; h < plan.hours; ++h) {
    const FloorHour& hour = plan.hour[h];
    step(hour, draws + hour.day * kFloorStays, home, along);
    count(home, room, counts + 2 * h * kFloorBins);
    count(along, room, counts + (2 * h + 1) * kFloorBins);
  }
}

}  // namespace dullspell::bench
