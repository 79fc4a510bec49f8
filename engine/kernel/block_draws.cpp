// Compiled once for each instruction set; DULLSPELL_LEVEL ends the names that it defines.
#include "engine/kernel/pack.hpp"
#include "engine/kernel/stay_block.hpp"
#include "weather/normal_polynomials.hpp"

namespace dullspell {
namespace {

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
#elif defined(__aarch64__)
  return reinterpret_cast<Words>(vmull_u32(vmovn_u64(reinterpret_cast<uint64x2_t>(a)),
                                           vmovn_u64(reinterpret_cast<uint64x2_t>(b))));
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
  const Pack log_m = log_of_ratio<Pack>(t);
  return log_m + small_number(exponent) * 0.69314718055994530942;
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
  const Pack s = sine<Pack>(angle), c = cosine<Pack>(angle);
  const Mask quarter = __builtin_convertvector(turn, Mask);
  const Mask swap = (quarter & 1) != 0;
  const Pack along = select<Pack>(swap, s, c);
  const Pack across = select<Pack>(swap, c, s);
  one = radius * select<Pack>(((quarter + 1) & 2) != 0, -along, along);
  other = radius * select<Pack>((quarter & 2) != 0, -across, across);
}

__attribute__((noinline)) void normal_row(unsigned long long seed, unsigned first, unsigned day,
                                          unsigned purpose, unsigned draw_block, double* one,
                                          double* other) {
  Words lane;
  for (int i = 0; i < kWidth; ++i) lane[i] = static_cast<unsigned long long>(i);
  for (int at = 0; at < kBlockStays; at += kWidth) {
    const Words stay = (lane + first + static_cast<unsigned>(at)) & 0xffffffffULL;
    const Counter w =
        philox({{all_words(draw_block), stay, all_words(day), all_words(purpose)}}, seed);
    Pack first_of_pair, second_of_pair;
    normals_of(number53(w.word[0], w.word[1]), number53(w.word[2], w.word[3]), first_of_pair,
               second_of_pair);
    store(one + at, first_of_pair);
    store(other + at, second_of_pair);
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
    const Pack clipped = clamped<Pack>(position, all<Pack>(0.0), all<Pack>(kKernelChiCells));
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
          larger<Pack>(all<Pack>(1.0),
                       climate.range_mean_c + climate.range_k_slope * (k - climate.k_mean)));
  }
}

}  // namespace

void DULLSPELL_AT_LEVEL(block_normals)(unsigned long long seed, unsigned first, unsigned day,
                                       unsigned purpose, unsigned draw_block, double* one,
                                       double* other) {
  normal_row(seed, first, day, purpose, draw_block, one, other);
}

void DULLSPELL_AT_LEVEL(draw_block)(const KernelDraws& draws, unsigned first, double* k,
                                    double* temp_mean_c, double* temp_range_c) {
  // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init): written before it is read
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

}  // namespace dullspell
