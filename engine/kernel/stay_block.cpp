// Compiled once for each instruction set; DULLSPELL_LEVEL ends the names that it defines.
#include "engine/kernel/stay_block.hpp"

#if defined(__SSE2__)
#include <immintrin.h>  // its functions are always inlined: none is emitted here
#endif

namespace dullspell {
namespace {

// As many doubles as the instruction set holds in a register; GCC's vector types make any operation
// element by element and `mask ? a : b` a blend.
#if defined(__AVX512F__)
constexpr int kWidth = 8;
#elif defined(__AVX__)
constexpr int kWidth = 4;
#else
constexpr int kWidth = 2;
#endif
constexpr int kPacks = kBlockStays / kWidth;

using Pack = double __attribute__((vector_size(kWidth * sizeof(double))));
using Mask = long long __attribute__((vector_size(kWidth * sizeof(double))));
using Cells = int __attribute__((vector_size(kWidth * sizeof(int))));

#define FORCE_INLINE inline __attribute__((always_inline))

FORCE_INLINE Pack all(double v) {
  return v - Pack{};
}
FORCE_INLINE Pack load(const double* from) {
  return *reinterpret_cast<const Pack*>(from);
}
FORCE_INLINE void store(double* to, Pack v) {
  *reinterpret_cast<Pack*>(to) = v;
}
FORCE_INLINE Pack larger(Pack a, Pack b) {
  return a < b ? b : a;
}
FORCE_INLINE Pack smaller(Pack a, Pack b) {
  return b < a ? b : a;
}
FORCE_INLINE Pack clamped(Pack v, Pack low, Pack high) {
  return v < low ? low : high < v ? high : v;
}

// The table's entry of every stay.
FORCE_INLINE Pack look_up(const double* table, Cells at) {
#if defined(__AVX512F__)
  // Masked, since the plain form reads a register that nothing has set.
  return reinterpret_cast<Pack>(_mm512_mask_i32gather_pd(reinterpret_cast<__m512d>(Pack{}), 0xff,
                                                         reinterpret_cast<__m256i>(at), table, 8));
#else
  Pack out;
  for (int i = 0; i < kWidth; ++i) out[i] = table[at[i]];
  return out;
#endif
}

// The sign of every stay's mask, a bit each.
FORCE_INLINE unsigned long long bits_of(Mask mask) {
#if defined(__AVX512F__)
  return _mm512_movepi64_mask(reinterpret_cast<__m512i>(mask));
#elif defined(__AVX__)
  return static_cast<unsigned>(_mm256_movemask_pd(reinterpret_cast<__m256d>(mask)));
#elif defined(__SSE2__)
  return static_cast<unsigned>(_mm_movemask_pd(reinterpret_cast<__m128d>(mask)));
#else
  unsigned long long bits = 0;
  for (int i = 0; i < kWidth; ++i) bits |= static_cast<unsigned long long>(mask[i] & 1) << i;
  return bits;
#endif
}

FORCE_INLINE Pack cut_off_of(const KernelPlan& plan, Pack battery_c) {
  const double last = kKernelColdPoints - 1;
  const Pack position = (battery_c - plan.cold_from_c) * plan.cold_points_per_k;
  const Pack clipped = clamped(position, all(0.0), all(last));
  Cells cell = __builtin_convertvector(clipped, Cells);
  const Cells most = cell - cell + (kKernelColdPoints - 2);
  cell = cell > most ? most : cell;
  const Pack low = look_up(plan.cold_share, cell);
  const Pack high = look_up(plan.cold_share + 1, cell);
  const Pack share = low + (clipped - __builtin_convertvector(cell, Pack)) * (high - low);
  return (1.0 - share) * plan.usable_wh;
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
  Pack furnace_w, fridge_w, held_c, drifting_c;
};

FORCE_INLINE Cabin cabin_of(const KernelPlan& plan, int hour_of_day, Pack air_c) {
  constexpr double kLivedIn_c = 15.0;
  Cabin cabin;
  cabin.furnace_w = cabin.fridge_w = all(0.0);
  cabin.held_c = cabin.drifting_c = larger(all(kLivedIn_c), air_c);
  if (plan.has_furnace) {
    const double unheld = plan.unheld_share[hour_of_day];
    const Pack unheated_c = air_c + plan.gains_w / plan.heat_loss_w_per_k;
    const Pack warmest_c = air_c + (plan.output_w + plan.gains_w) / plan.heat_loss_w_per_k;
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
  if (plan.has_fridge) {
    const Pack clipped =
        clamped(cabin.held_c, all(plan.fridge_coldest_c), all(plan.fridge_warmest_c));
    const Pack position = clipped - plan.fridge_coldest_c;
    Cells cell = __builtin_convertvector(position, Cells);
    const Cells most = cell - cell + (plan.fridge_points - 2);
    cell = cell > most ? most : cell;
    const Pack weight = position - __builtin_convertvector(cell, Pack);
    const Pack low = look_up(plan.fridge_w, cell);
    const Pack high = look_up(plan.fridge_w + 1, cell);
    cabin.fridge_w = low + weight * (high - low);
  }
  return cabin;
}

// Day-level place in the tables of clearness.
struct Node {
  Cells node;
  Pack weight;
};

FORCE_INLINE Node node_of(Pack k) {
  const Pack position = clamped(k, all(0.0), all(1.0)) * (kKernelNodes - 1.0);
  Cells node = __builtin_convertvector(position, Cells);
  const Cells most = node - node + (kKernelNodes - 2);
  node = node > most ? most : node;
  return {node, position - __builtin_convertvector(node, Pack)};
}

FORCE_INLINE Pack panels_of(const KernelPlan& plan, const KernelHour& hour, const Node& at,
                            Pack air_c) {
  const Pack warmer_k = air_c - 25.0;
  Pack sum_w = all(0.0);
  for (int c = 0; c < plan.controllers; ++c) {
    constexpr int kRow = 24 * 2;
    const double* table = plan.power +
                          ((hour.segment * plan.controllers + c) * kKernelNodes * kRow) +
                          2 * hour.hour_of_day;
    const Cells row = at.node * kRow;
    const Pack low_25 = look_up(table, row);
    const Pack low_k = look_up(table + 1, row);
    const Pack high_25 = look_up(table + kRow, row);
    const Pack high_k = look_up(table + kRow + 1, row);
    const Pack at_25 = low_25 + at.weight * (high_25 - low_25);
    const Pack per_k = low_k + at.weight * (high_k - low_k);
    sum_w += clamped(at_25 + per_k * warmer_k, all(0.0), all(plan.controller_limit_w[c]));
  }
  return sum_w * hour.at_camp;
}

FORCE_INLINE Pack acceptance_of(const KernelPlan& plan, Pack stored_wh, Pack cold_w) {
  Pack limit_w = all(plan.charge_limit_w);
  if (plan.taper_from < 1.0) {
    const Pack charge = stored_wh * plan.per_usable_wh;
    const double taper_w = plan.taper_to_c * plan.capacity_wh;
    const double least_w = taper_w < plan.charge_limit_w ? taper_w : plan.charge_limit_w;
    const Pack left = larger(all(0.0), (1.0 - charge) * plan.per_taper);
    const Pack tapered =
        left > 0.0 ? least_w + (plan.charge_limit_w - least_w) * left : all(least_w);
    limit_w = charge > plan.taper_from ? tapered : limit_w;
  }
  return smaller(limit_w, cold_w);
}

struct Needs {
  Pack dc_w, ac_w, panels_w, vehicle_w, cut_off_wh;
  double inverter_on;
};

struct Outside {
  double charger_w = 0.0;
  double ac_limit_w = __builtin_inf();
  double charger_efficiency = 1.0;
  bool carries_dc = false;
};

struct Rates {
  Pack inverted_w, overload_w, working_loss_w, carried_w, charger_w;
  double idle_w;
};

FORCE_INLINE Rates rates_of(const KernelPlan& plan, const Needs& needs, const Outside& outside,
                            Pack acceptance_w) {
  Rates r;
  r.inverted_w = r.overload_w = r.working_loss_w = all(0.0);
  r.idle_w = 0.0;
  if (plan.has_inverter) {
    r.inverted_w =
        outside.carries_dc ? needs.ac_w : smaller(needs.ac_w, all(plan.inverter_rated_w));
    r.overload_w = needs.ac_w - r.inverted_w;
    r.idle_w = plan.inverter_standby_w * needs.inverter_on;
    r.working_loss_w =
        (plan.inverter_linear + plan.inverter_quadratic_per_w * r.inverted_w) * r.inverted_w;
  }
  r.carried_w = smaller(r.inverted_w, all(outside.ac_limit_w));
  const Pack spare_w = (outside.ac_limit_w - r.carried_w) * outside.charger_efficiency;
  const Pack wanted_w =
      larger(all(0.0), acceptance_w + needs.dc_w + r.idle_w - needs.panels_w - needs.vehicle_w);
  const Pack rated_w =
      outside.carries_dc ? outside.charger_w + (needs.dc_w + r.idle_w) : all(outside.charger_w);
  r.charger_w = smaller(smaller(rated_w, spare_w), wanted_w);
  return r;
}

FORCE_INLINE Pack draw_of(const Rates& r, const Needs& needs, Pack x) {
  return needs.dc_w + r.idle_w + (1.0 - x) * (r.inverted_w + r.working_loss_w);
}

constexpr double kServed_wh = 1e-6;

struct Flow {
  Pack stored_after_wh, shortfall_wh, spilled_wh, served_outside_wh, charger_wh;
  Mask flat;
};

FORCE_INLINE Flow step(const KernelPlan& plan, const Needs& needs, const Rates& r,
                       Pack acceptance_w, Pack x, Pack stored_wh) {
  Flow flow;
  flow.served_outside_wh = x * r.carried_w;
  const Pack offered_wh = x * r.charger_w;
  const Pack draw_wh = draw_of(r, needs, x);
  const Pack net_wh = needs.panels_w + needs.vehicle_w + offered_wh - draw_wh;
  flow.shortfall_wh = r.overload_w + x * (r.inverted_w - r.carried_w);

  const Pack above_cut_off_wh = (stored_wh - needs.cut_off_wh) * plan.discharge_efficiency;
  const Pack deliverable_wh = larger(all(0.0), above_cut_off_wh);

  // A surplus charges, the rest of it is held back at the charger, then spilled.
  const Mask surplus = net_wh >= 0.0;
  const Pack room_wh = (plan.usable_wh - stored_wh) * plan.per_charge_efficiency;
  const Pack charged_wh = larger(all(0.0), smaller(smaller(net_wh, acceptance_w), room_wh));
  const Pack left_wh = net_wh - charged_wh;
  const Pack held_back_wh = smaller(left_wh, offered_wh);
  const Pack to_battery_wh = surplus ? charged_wh : all(0.0);
  flow.charger_wh = surplus ? offered_wh - held_back_wh : offered_wh;
  flow.spilled_wh = surplus ? left_wh - held_back_wh : all(0.0);

  // A deficit discharges within the limit down to the cut-off; what is missing is missing pro rata.
  const Pack need_wh = -net_wh;
  const Pack limited_wh = smaller(need_wh, all(plan.discharge_limit_w));
  Pack drawn_wh = smaller(limited_wh, deliverable_wh);
  flow.flat = ~surplus & (limited_wh - deliverable_wh > kServed_wh);
  const Pack short_wh = need_wh - drawn_wh;
  const Mask is_short = ~surplus & (short_wh > kServed_wh);
  drawn_wh = short_wh > kServed_wh ? drawn_wh : need_wh;
  const Pack from_battery_wh = surplus ? all(0.0) : drawn_wh;
  if (bits_of(is_short)) {
    const Pack served = is_short ? 1.0 - short_wh / draw_wh : all(1.0);
    flow.shortfall_wh += (1.0 - served) * (needs.dc_w + (1.0 - x) * r.inverted_w);
  }

  const Pack after_wh = stored_wh + to_battery_wh * plan.charge_efficiency -
                        from_battery_wh * plan.per_discharge_efficiency;
  const Pack self_wh = larger(all(0.0), after_wh) * plan.self_discharge_per_h;
  flow.stored_after_wh = clamped(after_wh - self_wh, all(0.0), all(plan.usable_wh));
  return flow;
}

FORCE_INLINE Pack share_to_reach(const KernelPlan& plan, const Needs& needs, const Rates& r,
                                 double allowed, Pack stored_wh, Pack target_wh) {
  const Pack capped_wh = smaller(target_wh, all(plan.usable_wh));
  const Pack change_wh = capped_wh - stored_wh;
  const Pack wanted_wh =
      change_wh >= 0.0 ? change_wh / plan.charge_efficiency : change_wh * plan.discharge_efficiency;
  const Pack off_wh = needs.panels_w + needs.vehicle_w - draw_of(r, needs, all(0.0));
  const Pack gain_wh = r.charger_w + r.inverted_w + r.working_loss_w;
  Pack share = clamped((wanted_wh - off_wh) / gain_wh, all(0.0), all(allowed));
  share = gain_wh <= kServed_wh ? all(allowed) : share;
  return wanted_wh - off_wh <= kServed_wh ? all(0.0) : share;
}

using Words = unsigned long long __attribute__((vector_size(kWidth * sizeof(double))));

FORCE_INLINE Words all_words(unsigned long long v) {
  return v - Words{};
}

// 32 by 32 bits in the low halves.
FORCE_INLINE Words product(Words a, Words b) {
#if defined(__AVX512F__)
  return reinterpret_cast<Words>(
      _mm512_maskz_mul_epu32(0xff, reinterpret_cast<__m512i>(a), reinterpret_cast<__m512i>(b)));
#elif defined(__AVX2__)
  return reinterpret_cast<Words>(
      _mm256_mul_epu32(reinterpret_cast<__m256i>(a), reinterpret_cast<__m256i>(b)));
#elif defined(__SSE2__)
  return reinterpret_cast<Words>(
      _mm_mul_epu32(reinterpret_cast<__m128i>(a), reinterpret_cast<__m128i>(b)));
#else
  return a * b;
#endif
}

// Philox4x32-10: Salmon, Moraes, Dror & Shaw 2011, doi:10.1145/2063384.2063405. One word in the low
// half of each element.
struct Counter {
  Words word[4];
};

FORCE_INLINE Counter philox(Counter c, unsigned long long seed) {
  constexpr unsigned long long kLow = 0xffffffffULL;
  unsigned key0 = static_cast<unsigned>(seed), key1 = static_cast<unsigned>(seed >> 32);
  for (int round = 0; round < 10; ++round) {
    const Words a = product(c.word[0], all_words(0xD2511F53ULL));
    const Words b = product(c.word[2], all_words(0xCD9E8D57ULL));
    c = {{(b >> 32) ^ c.word[1] ^ key0, b & kLow, (a >> 32) ^ c.word[3] ^ key1, a & kLow}};
    key0 += 0x9E3779B9u;
    key1 += 0xBB67AE85u;
  }
  return c;
}

FORCE_INLINE Pack small_number(Words v) {
  return __builtin_convertvector(__builtin_convertvector(v, Cells), Pack);
}

// The 53 bits of two words, as a double: 27 high ones, then 26.
FORCE_INLINE Pack number53(Words high, Words low) {
  return small_number(high >> 5) * 67108864.0 + small_number(low >> 6);
}

// As natural_log of standard_normal_pair.cpp.
FORCE_INLINE Pack natural_log(Pack x) {
  const Words bits = reinterpret_cast<Words>(x);
  constexpr unsigned long long kBias = 2048;
  const Words biased = (bits - 0x3fe6a09e667f3bcdULL + (kBias << 52)) >> 52 & 0xfffULL;
  const Words exponent = biased - kBias;
  const Pack m = reinterpret_cast<Pack>(bits - (exponent << 52));
  const Pack t = (m - 1.0) / (m + 1.0);
  const Pack s = t * t;
  Pack sum = all(1.0 / 21.0);
  sum = sum * s + 1.0 / 19.0;
  sum = sum * s + 1.0 / 17.0;
  sum = sum * s + 1.0 / 15.0;
  sum = sum * s + 1.0 / 13.0;
  sum = sum * s + 1.0 / 11.0;
  sum = sum * s + 1.0 / 9.0;
  sum = sum * s + 1.0 / 7.0;
  sum = sum * s + 1.0 / 5.0;
  sum = sum * s + 1.0 / 3.0;
  const Pack log_m = 2.0 * t + 2.0 * t * s * sum;
  return log_m + small_number(exponent) * 0.69314718055994530942;
}

FORCE_INLINE Pack sine(Pack x) {
  const Pack s = x * x;
  Pack sum = all(-1.0 / 1307674368000.0);
  sum = sum * s + 1.0 / 6227020800.0;
  sum = sum * s - 1.0 / 39916800.0;
  sum = sum * s + 1.0 / 362880.0;
  sum = sum * s - 1.0 / 5040.0;
  sum = sum * s + 1.0 / 120.0;
  sum = sum * s - 1.0 / 6.0;
  return x + x * s * sum;
}

FORCE_INLINE Pack cosine(Pack x) {
  const Pack s = x * x;
  Pack sum = all(1.0 / 20922789888000.0);
  sum = sum * s - 1.0 / 87178291200.0;
  sum = sum * s + 1.0 / 479001600.0;
  sum = sum * s - 1.0 / 3628800.0;
  sum = sum * s + 1.0 / 40320.0;
  sum = sum * s - 1.0 / 720.0;
  sum = sum * s + 1.0 / 24.0;
  return 1.0 - 0.5 * s + s * s * sum;
}

FORCE_INLINE Pack square_root(Pack v) {
#if defined(__AVX512F__)
  return reinterpret_cast<Pack>(_mm512_maskz_sqrt_pd(0xff, reinterpret_cast<__m512d>(v)));
#elif defined(__AVX__)
  return reinterpret_cast<Pack>(_mm256_sqrt_pd(reinterpret_cast<__m256d>(v)));
#elif defined(__SSE2__)
  return reinterpret_cast<Pack>(_mm_sqrt_pd(reinterpret_cast<__m128d>(v)));
#else
  Pack out;
  for (int i = 0; i < kWidth; ++i) out[i] = __builtin_sqrt(v[i]);
  return out;
#endif
}

// As normal_pair_from_bits, on as many stays as a pack holds.
FORCE_INLINE void normals_of(Pack a, Pack b, Pack& one, Pack& other) {
  constexpr double kTwoPow53 = 9007199254740992.0;
  const Pack u = (a + 1.0) * (1.0 / kTwoPow53);
  const Pack radius = square_root(-2.0 * natural_log(u));
  const Pack quarters = b * (4.0 / kTwoPow53);
  const Cells turn = __builtin_convertvector(quarters + 0.5, Cells);
  const Pack angle = (quarters - __builtin_convertvector(turn, Pack)) * 1.57079632679489661923;
  const Pack s = sine(angle), c = cosine(angle);
  const Mask quarter = __builtin_convertvector(turn, Mask);
  const Mask swap = (quarter & 1) != 0;
  const Pack along = swap ? s : c;
  const Pack across = swap ? c : s;
  one = radius * (((quarter + 1) & 2) != 0 ? -along : along);
  other = radius * ((quarter & 2) != 0 ? -across : across);
}

__attribute__((noinline)) void normal_row(unsigned long long seed, unsigned first, unsigned day,
                                          unsigned purpose, unsigned draw_block, double* one,
                                          double* other) {
  Words lane;
  for (int i = 0; i < kWidth; ++i) lane[i] = static_cast<unsigned long long>(i);
  for (int p = 0; p < kPacks; ++p) {
    const Words stay = (lane + first + static_cast<unsigned>(p * kWidth)) & 0xffffffffULL;
    const Counter w =
        philox({{all_words(draw_block), stay, all_words(day), all_words(purpose)}}, seed);
    Pack first_of_pair, second_of_pair;
    normals_of(number53(w.word[0], w.word[1]), number53(w.word[2], w.word[3]), first_of_pair,
               second_of_pair);
    store(one + p * kWidth, first_of_pair);
    store(other + p * kWidth, second_of_pair);
  }
}

struct DrawState {
  alignas(64) double year[kBlockStays];
  alignas(64) double fresh_sky[kBlockStays];
  alignas(64) double fresh_warm[kBlockStays];
  alignas(64) double z[kBlockStays];
  alignas(64) double warm[kBlockStays];
  alignas(64) double chi[kBlockStays];
};

__attribute__((noinline)) void next_day(const KernelDay& day, bool is_first, DrawState& state) {
  for (int at = 0; at < kBlockStays; at += kWidth) {
    const Pack sky = load(state.fresh_sky + at), warmth = load(state.fresh_warm + at);
    const Pack z = is_first ? sky : day.sky_kept * load(state.z + at) + day.sky_new * sky;
    const Pack warm =
        is_first ? warmth : day.warm_kept * load(state.warm + at) + day.warm_new * warmth;
    store(state.z + at, z);
    store(state.warm + at, warm);
    store(state.chi + at, day.of_year * load(state.year + at) + day.of_day * z);
  }
}

__attribute__((noinline)) void weather_of_segment(const KernelClimate& climate,
                                                  const DrawState& state, double* k_row,
                                                  double* mean_row, double* range_row) {
  constexpr double kCellsPerUnit = kKernelChiCells / 12.0;
  for (int at = 0; at < kBlockStays; at += kWidth) {
    const Pack chi = load(state.chi + at);
    const Pack position = (chi - -6.0) * kCellsPerUnit;
    const Pack clipped = clamped(position, all(0.0), all(kKernelChiCells));
    Cells cell = __builtin_convertvector(clipped, Cells);
    const Cells most = cell - cell + (kKernelChiCells - 1);
    cell = cell < kKernelChiCells ? cell : most;
    const Pack weight = clipped - __builtin_convertvector(cell, Pack);
    const Pack low = look_up(climate.k_of_chi, cell), high = look_up(climate.k_of_chi + 1, cell);
    const Pack k = low + weight * (high - low);
    store(k_row + at, k);
    store(mean_row + at, climate.temp_mean_c + climate.temp_per_chi * chi +
                             climate.temp_per_warm * load(state.warm + at));
    store(range_row + at,
          larger(all(1.0), climate.range_mean_c + climate.range_k_slope * (k - climate.k_mean)));
  }
}

// State of a block on one track.
struct TrackState {
  alignas(64) double stored_wh[kBlockStays];
  alignas(64) long long was_flat[kBlockStays];
  alignas(64) long long running[kBlockStays];
  alignas(64) double must_run_h[kBlockStays];
};

FORCE_INLINE Mask load_mask(const long long* from) {
  return *reinterpret_cast<const Mask*>(from);
}
FORCE_INLINE void store_mask(long long* to, Mask v) {
  *reinterpret_cast<Mask*>(to) = v;
}
FORCE_INLINE void add_to(double* sum, Pack v) {
  store(sum, load(sum) + v);
}

// What the weather alone decides in one hour, for one pack.
struct HourWeather {
  alignas(64) double dc_w[kBlockStays];
  alignas(64) double ac_w[kBlockStays];
  alignas(64) double panels_w[kBlockStays];
  // Of a battery whose cabin is kept warm, and of one whose furnace has no power.
  alignas(64) double cut_off_wh[2][kBlockStays];
  alignas(64) double cold_acceptance_w[2][kBlockStays];
};

struct Segment {
  alignas(64) double weight[kBlockStays];
  alignas(64) int node[kBlockStays];
};

FORCE_INLINE void weather_hour(const KernelPlan& plan, const KernelWeather& weather,
                               const KernelHour& hour, const Segment& segment, int at,
                               HourWeather& out, double* panels_wh) {
  const int row = hour.segment * kBlockStays + at;
  const Pack air_c =
      load(weather.temp_mean_c + row) + load(weather.temp_range_c + row) * hour.temperature_swing;
  const Cabin cabin = cabin_of(plan, hour.hour_of_day, air_c);
  Pack dc_w = hour.fixed_dc_w + cabin.furnace_w;
  Pack ac_w = all(hour.fixed_ac_w);
  if (plan.has_fridge) {
    if (plan.fridge_ac) {
      ac_w += cabin.fridge_w * hour.inverter_on;
    } else {
      dc_w += cabin.fridge_w;
    }
  }
  Pack panels_w = all(0.0);
  if (hour.lit) {
    const Node node{*reinterpret_cast<const Cells*>(segment.node + at), load(segment.weight + at)};
    panels_w = panels_of(plan, hour, node, air_c);
  }
  store(out.dc_w + at, dc_w);
  store(out.ac_w + at, ac_w);
  store(out.panels_w + at, panels_w);
  const Pack held_c = plan.battery_outside ? air_c : cabin.held_c;
  const Pack cut_off_wh = cut_off_of(plan, held_c), accepted_w = cold_acceptance_of(plan, held_c);
  store(out.cut_off_wh[0] + at, cut_off_wh);
  store(out.cold_acceptance_w[0] + at, accepted_w);
  if (plan.has_furnace && !plan.battery_outside) {
    store(out.cut_off_wh[1] + at, cut_off_of(plan, cabin.drifting_c));
    store(out.cold_acceptance_w[1] + at, cold_acceptance_of(plan, cabin.drifting_c));
  } else {
    store(out.cut_off_wh[1] + at, cut_off_wh);
    store(out.cold_acceptance_w[1] + at, accepted_w);
  }
  add_to(panels_wh + at, panels_w);
}

template <bool kAlong>
FORCE_INLINE void track_hour(const KernelPlan& plan, const KernelWeather& weather, int h, int at,
                             const HourWeather& common, TrackState& state, KernelTrack& out) {
  const KernelHour& hour = plan.hour[h];
  const Pack stored_wh = load(state.stored_wh + at);
  const Mask was_flat = load_mask(state.was_flat + at);
  Needs needs{load(common.dc_w + at),
              load(common.ac_w + at),
              load(common.panels_w + at),
              all(hour.vehicle_w),
              was_flat ? load(common.cut_off_wh[1] + at) : load(common.cut_off_wh[0] + at),
              hour.inverter_on};
  const double* use = weather.use + hour.segment * plan.loads * kBlockStays + at;
  for (int i = 0; i < plan.loads; ++i) {
    const KernelLoad& one = plan.load[i];
    const Pack wanted_w = one.watts[h] * load(use + i * kBlockStays);
    Pack watts = wanted_w;
    if (one.optional) {
      const Mask dropped = stored_wh < one.optional_below_wh;
      add_to(out.given_up_wh + at, dropped ? wanted_w : all(0.0));
      watts = dropped ? all(0.0) : wanted_w;
    }
    if (one.ac) {
      needs.ac_w += watts;
    } else {
      needs.dc_w += watts;
    }
  }

  Outside outside;
  if (hour.hookup) {
    outside.charger_w = plan.hookup_charger_w;
    outside.carries_dc = true;
  } else if (kAlong) {
    outside.charger_w = plan.generator_charger_w;
    outside.ac_limit_w = plan.generator_rated_w;
    outside.charger_efficiency = plan.generator_charger_efficiency;
  }
  const Pack cold_w =
      was_flat ? load(common.cold_acceptance_w[1] + at) : load(common.cold_acceptance_w[0] + at);
  const Pack acceptance_w = acceptance_of(plan, stored_wh, cold_w);
  const Rates rates = rates_of(plan, needs, outside, acceptance_w);

  Pack share = all(hour.hookup ? hour.at_camp : 0.0);
  const bool may_run = kAlong && !hour.hookup;
  if (may_run) {
    const double allowed = hour.generator_allowed;
    const Mask was_running = load_mask(state.running + at);
    Pack must_run_h = load(state.must_run_h + at);
    if (allowed > 0.0) {
      Pack target_wh = all(hour.generator_target_wh);
      if (plan.rule_below) {
        const Mask wanted = was_running | (stored_wh < plan.start_below_wh);
        target_wh = wanted ? all(plan.stop_at_wh) : all(-1.0);
      }
      const Pack reach = share_to_reach(plan, needs, rates, allowed, stored_wh, target_wh);
      share = target_wh >= 0.0 ? reach : all(0.0);
      must_run_h = (share > 0.0) & ~was_running ? all(plan.min_run_h) : must_run_h;
      share = larger(share, smaller(all(allowed), must_run_h));
      must_run_h = larger(all(0.0), must_run_h - share);
    } else {
      must_run_h = all(0.0);
    }
    const Mask runs = share > 0.0;
    add_to(out.starts + at, runs & ~was_running ? all(1.0) : all(0.0));
    store_mask(state.running + at, runs & (share >= allowed));
    store(state.must_run_h + at, must_run_h);
  }

  const Flow flow = step(plan, needs, rates, acceptance_w, share, stored_wh);
  if (may_run) {
    const Mask runs = share > 0.0;
    const Pack load_kwh =
        (flow.served_outside_wh + flow.charger_wh * plan.per_charger_efficiency) * 0.001;
    const Pack fuel_l = share * plan.fuel_l_per_h_idle + load_kwh * plan.fuel_l_per_kwh;
    add_to(out.generator_h + at, share);
    add_to(out.fuel_l + at, runs ? fuel_l : all(0.0));
  }
  add_to(out.demand_wh + at, needs.dc_w + needs.ac_w);
  add_to(out.shortfall_wh + at, flow.shortfall_wh);
  add_to(out.spilled_wh + at, flow.spilled_wh);
  store(state.stored_wh + at, flow.stored_after_wh);
  store_mask(state.was_flat + at, flow.flat);

  const Pack charge = flow.stored_after_wh * plan.per_usable_wh;
  constexpr double kFull = 1.0 - 1e-9;
  const Pack bin = charge >= kFull ? all(256.0) : larger(all(0.0), charge) * 256.0;
  using Bins = unsigned short __attribute__((vector_size(kWidth * sizeof(short)), aligned(2)));
  *reinterpret_cast<Bins*>(out.charge_bin + h * kBlockStays + at) =
      __builtin_convertvector(__builtin_convertvector(bin, Cells), Bins);
  out.flat[h] |= bits_of(flow.flat) << at;
}

void begin_track(const KernelPlan& plan, TrackState& state, KernelTrack& out) {
  for (int i = 0; i < kBlockStays; ++i) {
    state.stored_wh[i] = plan.start_wh;
    state.was_flat[i] = state.running[i] = 0;
    state.must_run_h[i] = 0.0;
    out.demand_wh[i] = out.shortfall_wh[i] = out.given_up_wh[i] = out.spilled_wh[i] = 0.0;
    out.generator_h[i] = out.fuel_l[i] = out.starts[i] = 0.0;
  }
}

// Own functions, so that the compiler keeps each loop's registers to itself.
__attribute__((noinline)) void weather_row(const KernelPlan& plan, const KernelWeather& weather,
                                           const KernelHour& hour, const Segment& segment,
                                           HourWeather& common, double* panels_wh) {
  for (int p = 0; p < kPacks; ++p) {
    weather_hour(plan, weather, hour, segment, p * kWidth, common, panels_wh);
  }
}

template <bool kAlong>
__attribute__((noinline)) void track_row(const KernelPlan& plan, const KernelWeather& weather,
                                         int h, const HourWeather& common, TrackState& state,
                                         KernelTrack& out) {
  out.flat[h] = 0;
  for (int p = 0; p < kPacks; ++p) {
    track_hour<kAlong>(plan, weather, h, p * kWidth, common, state, out);
  }
}

__attribute__((noinline)) void find_nodes(const double* k, Segment& segment) {
  for (int p = 0; p < kPacks; ++p) {
    const int at = p * kWidth;
    const Node node = node_of(load(k + at));
    *reinterpret_cast<Cells*>(segment.node + at) = node.node;
    store(segment.weight + at, node.weight);
  }
}

}  // namespace

#define NAME_AT_LEVEL(name, level) name##_##level
#define NAME_AT(name, level) NAME_AT_LEVEL(name, level)

void NAME_AT(block_normals, DULLSPELL_LEVEL)(unsigned long long seed, unsigned first, unsigned day,
                                             unsigned purpose, unsigned draw_block, double* one,
                                             double* other) {
  normal_row(seed, first, day, purpose, draw_block, one, other);
}

void NAME_AT(draw_block, DULLSPELL_LEVEL)(const KernelDraws& draws, unsigned first, double* k,
                                          double* temp_mean_c, double* temp_range_c) {
  DrawState state;
  alignas(64) double unused[kBlockStays];
  normal_row(draws.seed, first, 0, draws.year_purpose, 0, state.year, unused);
  for (int d = 0; d < draws.days; ++d) {
    normal_row(draws.seed, first, static_cast<unsigned>(d), draws.weather_purpose, 0,
               state.fresh_sky, state.fresh_warm);
    next_day(draws.day[d], d == 0, state);
    for (int s = draws.day[d].first_segment; s < draws.day[d].end_segment; ++s) {
      weather_of_segment(draws.climate[s], state, k + s * kBlockStays,
                         temp_mean_c + s * kBlockStays, temp_range_c + s * kBlockStays);
    }
  }
}

void NAME_AT(run_block, DULLSPELL_LEVEL)(const KernelPlan& plan, const KernelWeather& weather,
                                         KernelResult& out) {
  TrackState home, along;
  Segment segment;
  HourWeather common;
  begin_track(plan, home, out.home);
  if (plan.has_generator) begin_track(plan, along, out.along);
  for (double& sum : out.panels_wh) sum = 0.0;
  int at_segment = -1;
  for (int h = 0; h < plan.hours; ++h) {
    const KernelHour& hour = plan.hour[h];
    if (hour.segment != at_segment) {
      at_segment = hour.segment;
      find_nodes(weather.k + at_segment * kBlockStays, segment);
    }
    weather_row(plan, weather, hour, segment, common, out.panels_wh);
    track_row<false>(plan, weather, h, common, home, out.home);
    if (plan.has_generator) track_row<true>(plan, weather, h, common, along, out.along);
  }
}

}  // namespace dullspell
