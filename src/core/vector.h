/* SPDX-License-Identifier: GPL-3.0-or-later */
/* vector.h - HB_LANES numbers side by side, each in its lane (a power of two), with the few
 * functions the physics needs.
 *
 * The physics (physics.inc) is written once and compiled for plain double, which the reference
 * solver uses, and for vectors of each instruction set, which the integrator uses. A "number" is
 * REAL in both. Only IEEE add, subtract, multiply, divide and square root, and integer moves, are
 * used here, so that the same source gives the same bits on every instruction set.
 */
#ifndef HB_CORE_VECTOR_H
#define HB_CORE_VECTOR_H

#include <math.h>
#include <stdint.h>

#ifdef __AVX__
#include <immintrin.h>
#endif

#ifndef HB_LANES
#define HB_LANES 4
#endif

typedef double hb_vector __attribute__((vector_size(8 * HB_LANES)));
typedef int64_t hb_vector_bits __attribute__((vector_size(8 * HB_LANES)));
typedef uint64_t hb_vector_word __attribute__((vector_size(8 * HB_LANES)));

/* Before a loop over the wall cells, whose number the integrator knows. */
#if defined(__GNUC__) && !defined(__clang__)
#define HB_UNROLL _Pragma("GCC unroll 12")
#else
#define HB_UNROLL
#endif

#define HB_INLINE static inline __attribute__((always_inline, unused))

/* ---- the same words for one double ----------------------------------------------------------- */

HB_INLINE double hb_one_set(double x)
{
    return x;
}
HB_INLINE double hb_one_max(double a, double b)
{
    return a > b ? a : b;
}
HB_INLINE double hb_one_min(double a, double b)
{
    return a < b ? a : b;
}
HB_INLINE double hb_one_sqrt(double x)
{
    return sqrt(x);
}
HB_INLINE double hb_one_exp(double x)
{
    return exp(x);
}
HB_INLINE double hb_one_log(double x)
{
    return log(x);
}

/* ---- vectors --------------------------------------------------------------------------------- */

HB_INLINE hb_vector hb_vector_set(double x)
{
    return x - (hb_vector){0.0};
}

/* What the vector extension of C has no word for. Each does in one instruction, to the same bits,
 * what the plain form does in a few; a lane of a mask is all ones or zero. */
#if defined __AVX512DQ__ && HB_LANES == 8
#define HB_PICK(mask, a, b) _mm512_mask_blend_pd(_mm512_movepi64_mask((__m512i)(mask)), b, a)
#define HB_MAX(a, b)        _mm512_max_pd(a, b)
#define HB_MIN(a, b)        _mm512_min_pd(a, b)
#define HB_ANY(mask)        (_mm512_movepi64_mask((__m512i)(mask)) != 0)
#elif defined __AVX__ && HB_LANES == 4
#define HB_PICK(mask, a, b) _mm256_blendv_pd(b, a, (hb_vector)(mask))
#define HB_MAX(a, b)        _mm256_max_pd(a, b)
#define HB_MIN(a, b)        _mm256_min_pd(a, b)
#define HB_ANY(mask)        (_mm256_movemask_pd((hb_vector)(mask)) != 0)
#else
#define HB_PICK(mask, a, b)                                                                        \
    ((hb_vector)(((mask) & (hb_vector_bits)(a)) | (~(mask) & (hb_vector_bits)(b))))
#define HB_MAX(a, b) HB_PICK((a) > (b), a, b)
#define HB_MIN(a, b) HB_PICK((a) < (b), a, b)
#endif

HB_INLINE hb_vector hb_vector_pick(hb_vector_bits mask, hb_vector a, hb_vector b)
{
    return HB_PICK(mask, a, b);
}

HB_INLINE hb_vector hb_vector_max(hb_vector a, hb_vector b)
{
    return HB_MAX(a, b);
}

HB_INLINE hb_vector hb_vector_min(hb_vector a, hb_vector b)
{
    return HB_MIN(a, b);
}

HB_INLINE hb_vector hb_vector_sqrt(hb_vector x)
{
    hb_vector r;
    for (int i = 0; i < HB_LANES; i++)
        r[i] = sqrt(x[i]);
    return r;
}

/* exp for -700 <= x <= 700 (clamped outside). x = n ln 2 + r, |r| <= ln2/2; the Taylor series
 * to r^13 leaves less than 2^-56 there; 2^n is put into the exponent bits. */
HB_INLINE hb_vector hb_vector_exp(hb_vector x)
{
    /* 1.5 * 2^52: rounds to an integer */
    const hb_vector shift = hb_vector_set(6755399441055744.0);
    x = hb_vector_max(hb_vector_min(x, hb_vector_set(700.0)), hb_vector_set(-700.0));
    const hb_vector t = x * 1.4426950408889634074 + shift;
    const hb_vector n = t - shift;
    /* ln 2 in two parts; the first has 21 trailing zero bits so that n * part is exact */
    const hb_vector r = (x - n * 6.93147180369123816490e-01) - n * 1.90821492927058770002e-10;
    /* the series in pairs, so that the chip need not wait for one term after the other */
    const hb_vector r2 = r * r, r4 = r2 * r2, r8 = r4 * r4;
    const hb_vector p01 = 1.0 + r, p23 = 0.5 + r * (1.0 / 6.0);
    const hb_vector p45 = 1.0 / 24.0 + r * (1.0 / 120.0), p67 = 1.0 / 720.0 + r * (1.0 / 5040.0);
    const hb_vector p89 = 1.0 / 40320.0 + r * (1.0 / 362880.0);
    const hb_vector pab = 1.0 / 3628800.0 + r * (1.0 / 39916800.0);
    const hb_vector pcd = 1.0 / 479001600.0 + r * (1.0 / 6227020800.0);
    const hb_vector high = (p89 + r2 * pab) + r4 * pcd;
    const hb_vector fraction = p01 + (r2 * p23 + (r4 * (p45 + r2 * p67) + r8 * high));
    const hb_vector_word power = ((hb_vector_word)t + 1023u) << 52;
    return fraction * (hb_vector)power;
}

/* log for normal positive x. x = 2^k m with m in [sqrt(1/2), sqrt 2); with s = (m-1)/(m+1),
 * log m = 2 (s + s^3/3 + ... ), |s| <= 0.1716, cut after s^21 (below 2^-57); 2 s is written as
 * f - f^2/2 + s f^2/2, f = m - 1. Both functions are within 2 units in the last place. */
HB_INLINE hb_vector hb_vector_log(hb_vector x)
{
    const hb_vector_word bits = (hb_vector_word)x;
    const hb_vector_word exponent = bits >> 52;
    const hb_vector two52 = hb_vector_set(4503599627370496.0);
    hb_vector k = (hb_vector)(exponent | (hb_vector_word)two52) - two52 - 1023.0;
    hb_vector m = (hb_vector)((bits & 0x000fffffffffffffu) | 0x3ff0000000000000u);
    const hb_vector_bits high = m > 1.4142135623730951;
    m = hb_vector_pick(high, m * 0.5, m);
    k = hb_vector_pick(high, k + 1.0, k);
    const hb_vector f = m - 1.0;
    const hb_vector s = f / (m + 1.0);
    const hb_vector z = s * s;
    const hb_vector z2 = z * z, z4 = z2 * z2;
    const hb_vector low = (2.0 / 3.0 + z * (2.0 / 5.0)) + z2 * (2.0 / 7.0 + z * (2.0 / 9.0));
    const hb_vector mid = (2.0 / 11.0 + z * (2.0 / 13.0)) + z2 * (2.0 / 15.0 + z * (2.0 / 17.0));
    const hb_vector p = low + z4 * (mid + z4 * (2.0 / 19.0 + z * (2.0 / 21.0)));
    /* f itself is exact, so only what is small beside it is rounded */
    const hb_vector half = 0.5 * f * f;
    const hb_vector rest = s * (half + p * z) + k * 1.90821492927058770002e-10;
    return k * 6.93147180369123816490e-01 - ((half - rest) - f);
}

HB_INLINE int hb_vector_any(hb_vector_bits mask)
{
#ifdef HB_ANY
    return HB_ANY(mask);
#else
    int64_t any = 0;
    for (int i = 0; i < HB_LANES; i++)
        any |= mask[i];
    return any != 0;
#endif
}

HB_INLINE int hb_vector_all(hb_vector_bits mask)
{
    return !hb_vector_any(~mask);
}

#endif
