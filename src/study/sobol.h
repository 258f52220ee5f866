/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sobol.h - shares of independent inputs in the variance of outputs. */
#ifndef HB_STUDY_SOBOL_H
#define HB_STUDY_SOBOL_H

#include "hobble.h"

enum { HB_SOBOL_OUTPUTS = 4, HB_SOBOL_LEAST = 16 };

/* What is asked for. run: count points of dimensions numbers in 0..1 each, one after the other, and
 * as many rows of outputs numbers back. */
struct hb_sobol_job {
    int dimensions; /* 1..HOBBLE_INDICES_MAX */
    int outputs;    /* 1..4 */
    size_t base;    /* points of the base sample, at least 16 */
    unsigned long seed;
    enum hobble_status (*run)(void *context, const double *point, size_t count, double *out);
    void *context;
};

/* Shares with the ends of their 95 % confidence intervals; NAN where the output does not vary. */
struct hb_sobol_index {
    double first, first_low, first_high;
    double total, total_low, total_high;
};
struct hb_sobol_result {
    double mean[HB_SOBOL_OUTPUTS], deviation[HB_SOBOL_OUTPUTS];
    struct hb_sobol_index index[HB_SOBOL_OUTPUTS][HOBBLE_INDICES_MAX];
};

/* Two base samples A and B out of one Sobol' sequence of twice the dimensions, and A with one
 * column from B for each input: base * (dimensions + 2) runs. GSL's sequence is good to 40; what is
 * beyond, the last columns of B, is pseudo-random. first = mean of f_B (f_ABi - f_A) / V, with f_B
 * less its mean, and total = mean of (f_ABi - f_A)^2 / 2V: Saltelli et al., Comput. Phys. Commun.
 * 181 (2010) 259, table 2, (b) and (f), the latter after Jansen, ibid. 117 (1999) 35. Intervals:
 * percentiles of 500 bootstrap resamples of the base points. */
enum hobble_status hb_sobol_run(const struct hb_sobol_job *job, struct hb_sobol_result *result);

#endif
