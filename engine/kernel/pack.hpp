#pragma once

// Packs of stays for the sources that are compiled for several instruction sets: no library header,
// and nothing that a compiler would emit as a function.

#if defined(__SSE2__)
#include <immintrin.h>  // its functions are always inlined: none is emitted here
#elif defined(__aarch64__)
#include <arm_neon.h>
#endif

#include "engine/hour/number.hpp"

namespace dullspell {

// As many doubles as the instruction set holds in a register; the compilers' vector types make any
// operation element by element and `mask ? a : b` a blend.
#if defined(__AVX512F__)
constexpr int kWidth = 8;
#elif defined(__AVX__)
constexpr int kWidth = 4;
#else
constexpr int kWidth = 2;
#endif

namespace {

using Pack = double __attribute__((vector_size(kWidth * sizeof(double))));
using Mask = long long __attribute__((vector_size(kWidth * sizeof(double))));
using Cells = int __attribute__((vector_size(kWidth * sizeof(int))));

FORCE_INLINE Pack load(const double* from) {
  return *reinterpret_cast<const Pack*>(from);
}
FORCE_INLINE void store(double* to, Pack v) {
  *reinterpret_cast<Pack*>(to) = v;
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

}  // namespace

template <>
struct NumberTraits<Pack> {
  using Mask = dullspell::Mask;

  static FORCE_INLINE Pack all(double v) { return v - Pack{}; }
  // From `a < b ? b : a` the compiler makes a comparison and a blend, where one instruction does.
  static FORCE_INLINE Pack larger(Pack a, Pack b) {
#if defined(__AVX512F__)
    return reinterpret_cast<Pack>(
        _mm512_maskz_max_pd(0xff, reinterpret_cast<__m512d>(b), reinterpret_cast<__m512d>(a)));
#elif defined(__AVX__)
    return reinterpret_cast<Pack>(
        _mm256_max_pd(reinterpret_cast<__m256d>(b), reinterpret_cast<__m256d>(a)));
#elif defined(__SSE2__)
    return reinterpret_cast<Pack>(
        _mm_max_pd(reinterpret_cast<__m128d>(b), reinterpret_cast<__m128d>(a)));
#else
    return a < b ? b : a;
#endif
  }
  static FORCE_INLINE Pack smaller(Pack a, Pack b) {
#if defined(__AVX512F__)
    return reinterpret_cast<Pack>(
        _mm512_maskz_min_pd(0xff, reinterpret_cast<__m512d>(b), reinterpret_cast<__m512d>(a)));
#elif defined(__AVX__)
    return reinterpret_cast<Pack>(
        _mm256_min_pd(reinterpret_cast<__m256d>(b), reinterpret_cast<__m256d>(a)));
#elif defined(__SSE2__)
    return reinterpret_cast<Pack>(
        _mm_min_pd(reinterpret_cast<__m128d>(b), reinterpret_cast<__m128d>(a)));
#else
    return b < a ? b : a;
#endif
  }
  static FORCE_INLINE Pack select(Mask mask, Pack a, Pack b) {
    return mask ? a : b;
  }
  static FORCE_INLINE bool any(Mask mask) {
    return bits_of(mask) != 0;
  }
};

namespace {

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

// Cut off to whole numbers, up to 32,767.
FORCE_INLINE void store_shorts(short* to, Pack v) {
#if defined(__AVX512F__)
  const __m256i whole = _mm512_maskz_cvttpd_epi32(0xff, reinterpret_cast<__m512d>(v));
  _mm_storeu_si128(reinterpret_cast<__m128i*>(to), _mm256_maskz_cvtepi32_epi16(0xff, whole));
#elif defined(__AVX__)
  const __m128i whole = _mm256_cvttpd_epi32(reinterpret_cast<__m256d>(v));
  _mm_storel_epi64(reinterpret_cast<__m128i*>(to), _mm_packs_epi32(whole, whole));
#elif defined(__SSE2__)
  const __m128i whole = _mm_cvttpd_epi32(reinterpret_cast<__m128d>(v));
  _mm_storeu_si32(to, _mm_packs_epi32(whole, whole));
#else
  for (int i = 0; i < kWidth; ++i) to[i] = static_cast<short>(v[i]);
#endif
}

FORCE_INLINE Mask load_mask(const long long* from) {
  return *reinterpret_cast<const Mask*>(from);
}
FORCE_INLINE void store_mask(long long* to, Mask v) {
  *reinterpret_cast<Mask*>(to) = v;
}
FORCE_INLINE void add_to(double* sum, Pack v) {
  store(sum, load(sum) + v);
}

}  // namespace
}  // namespace dullspell

// Names end in the instruction set that the source is compiled for.
#define DULLSPELL_NAME_AT_LEVEL(name, level) name##_##level
#define DULLSPELL_NAME_AT(name, level) DULLSPELL_NAME_AT_LEVEL(name, level)
#define DULLSPELL_AT_LEVEL(name) DULLSPELL_NAME_AT(name, DULLSPELL_LEVEL)
