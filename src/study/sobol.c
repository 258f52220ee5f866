/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/sobol.h"

#include "advice/ensemble.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SEQUENCE_MOST = 40, PLACES_MOST = 2 * HOBBLE_INDICES_MAX, RESAMPLES = 500 };
#define TAIL 0.025

/* Samples and what came out of them. */
struct sample {
    const struct hb_sobol_job *job;
    double *a, *b, *mixed; /* base * dimensions */
    double *of_a, *of_b;   /* base * outputs */
    double *of_mixed;      /* dimensions * base * outputs */
    double *first, *total; /* outputs * dimensions * RESAMPLES */
    size_t *pick;          /* base */
};

static bool make_room(struct sample *s)
{
    const size_t n = s->job->base, d = (size_t)s->job->dimensions, k = (size_t)s->job->outputs;
    s->a = calloc(n * d, sizeof *s->a);
    s->b = calloc(n * d, sizeof *s->b);
    s->mixed = calloc(n * d, sizeof *s->mixed);
    s->of_a = calloc(n * k, sizeof *s->of_a);
    s->of_b = calloc(n * k, sizeof *s->of_b);
    s->of_mixed = calloc(d * n * k, sizeof *s->of_mixed);
    s->first = calloc(k * d * RESAMPLES, sizeof *s->first);
    s->total = calloc(k * d * RESAMPLES, sizeof *s->total);
    s->pick = calloc(n, sizeof *s->pick);
    return s->a && s->b && s->mixed && s->of_a && s->of_b && s->of_mixed && s->first && s->total &&
           s->pick;
}

static void release(struct sample *s)
{
    free(s->a);
    free(s->b);
    free(s->mixed);
    free(s->of_a);
    free(s->of_b);
    free(s->of_mixed);
    free(s->first);
    free(s->total);
    free(s->pick);
}

/* The sequence is good to so many dimensions; what is beyond is drawn at random, which is the last
 * parameters of the second sample. */
static unsigned sequence_of(const struct hb_sobol_job *job)
{
    return 2 * (unsigned)job->dimensions < SEQUENCE_MOST ? 2 * (unsigned)job->dimensions
                                                         : SEQUENCE_MOST;
}

/* One sequence for both samples, shifted modulo one by what the seed draws, so that no point is
 * nought and another seed is another sample. */
static enum hobble_status draw(struct sample *s, gsl_rng *rng, gsl_qrng *sequence)
{
    const size_t d = (size_t)s->job->dimensions;
    double point[PLACES_MOST], shift[PLACES_MOST];
    for (size_t i = 0; i < 2 * d; i++)
        shift[i] = gsl_rng_uniform_pos(rng);
    for (size_t row = 0; row < s->job->base; row++) {
        if (gsl_qrng_get(sequence, point) != GSL_SUCCESS)
            return HOBBLE_E_INTERNAL;
        for (size_t i = sequence_of(s->job); i < 2 * d; i++)
            point[i] = gsl_rng_uniform_pos(rng);
        for (size_t i = 0; i < 2 * d; i++) {
            double u = point[i] + shift[i];
            u = fmin(fmax(u - floor(u), 1e-9), 1.0 - 1e-9);
            (i < d ? s->a : s->b)[row * d + i % d] = u;
        }
    }
    return HOBBLE_OK;
}

static enum hobble_status run_all(struct sample *s)
{
    const struct hb_sobol_job *j = s->job;
    const size_t n = j->base, d = (size_t)j->dimensions, k = (size_t)j->outputs;
    enum hobble_status status = j->run(j->context, s->a, n, s->of_a);
    if (status == HOBBLE_OK)
        status = j->run(j->context, s->b, n, s->of_b);
    for (size_t i = 0; i < d && status == HOBBLE_OK; i++) {
        memcpy(s->mixed, s->a, n * d * sizeof *s->a);
        for (size_t row = 0; row < n; row++)
            s->mixed[row * d + i] = s->b[row * d + i];
        status = j->run(j->context, s->mixed, n, &s->of_mixed[i * n * k]);
    }
    return status;
}

/* ---- estimators ------------------------------------------------------------------------------ */

/* Mean and variance of an output over both base samples; pick: which base points. Values are taken
 * from the first one, so that values that do not differ have no variance at all. */
static void moments(const struct sample *s, size_t output, double *mean, double *variance)
{
    const size_t n = s->job->base, k = (size_t)s->job->outputs;
    const double origin = s->of_a[output];
    double sum = 0.0, squares = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double a = s->of_a[s->pick[i] * k + output] - origin;
        const double b = s->of_b[s->pick[i] * k + output] - origin;
        sum += a + b;
        squares += a * a + b * b;
    }
    const double count = 2.0 * (double)n;
    *mean = origin + sum / count;
    *variance = fmax(squares - sum * sum / count, 0.0) / (count - 1.0);
}

/* mean and variance: of the same base points. */
static void estimate(const struct sample *s, size_t input, size_t output, const double moment[2],
                     double *first, double *total)
{
    const size_t n = s->job->base, k = (size_t)s->job->outputs;
    double shared = 0.0, changed = 0.0;
    for (size_t i = 0; i < n; i++) {
        const size_t row = s->pick[i];
        const double change =
            s->of_mixed[(input * n + row) * k + output] - s->of_a[row * k + output];
        shared += (s->of_b[row * k + output] - moment[0]) * change;
        changed += change * change;
    }
    const double scale = (double)n * moment[1];
    *first = moment[1] > 0.0 ? shared / scale : (double)NAN;
    *total = moment[1] > 0.0 ? 0.5 * changed / scale : (double)NAN;
}

static void resample(struct sample *s, gsl_rng *rng)
{
    const size_t n = s->job->base, d = (size_t)s->job->dimensions;
    for (size_t r = 0; r < RESAMPLES; r++) {
        for (size_t i = 0; i < n; i++)
            s->pick[i] = gsl_rng_uniform_int(rng, n);
        for (size_t k = 0; k < (size_t)s->job->outputs; k++) {
            double moment[2];
            moments(s, k, &moment[0], &moment[1]);
            for (size_t i = 0; i < d; i++) {
                const size_t at = (k * d + i) * RESAMPLES + r;
                estimate(s, i, k, moment, &s->first[at], &s->total[at]);
            }
        }
    }
}

/* Percentiles. None, and no share either, when there are resamples without any variance: then the
 * output hardly varies, and a share of that is chance. */
static void interval(double *value, double *share, double *low, double *high)
{
    *low = *high = (double)NAN;
    for (int r = 0; r < RESAMPLES; r++)
        if (!isfinite(value[r])) {
            *share = (double)NAN;
            return;
        }
    hb_sort(value, RESAMPLES);
    *low = value[(size_t)(TAIL * (RESAMPLES - 1))];
    *high = value[(size_t)ceil((1.0 - TAIL) * (RESAMPLES - 1))];
}

static void evaluate(struct sample *s, gsl_rng *rng, struct hb_sobol_result *result)
{
    const size_t d = (size_t)s->job->dimensions;
    for (size_t i = 0; i < s->job->base; i++)
        s->pick[i] = i;
    for (size_t k = 0; k < (size_t)s->job->outputs; k++) {
        double moment[2];
        moments(s, k, &moment[0], &moment[1]);
        result->mean[k] = moment[0];
        result->deviation[k] = sqrt(moment[1]);
        for (size_t i = 0; i < d; i++)
            estimate(s, i, k, moment, &result->index[k][i].first, &result->index[k][i].total);
    }
    resample(s, rng);
    for (size_t k = 0; k < (size_t)s->job->outputs; k++)
        for (size_t i = 0; i < d; i++) {
            struct hb_sobol_index *index = &result->index[k][i];
            interval(&s->first[(k * d + i) * RESAMPLES], &index->first, &index->first_low,
                     &index->first_high);
            interval(&s->total[(k * d + i) * RESAMPLES], &index->total, &index->total_low,
                     &index->total_high);
        }
}

enum hobble_status hb_sobol_run(const struct hb_sobol_job *job, struct hb_sobol_result *result)
{
    struct sample s = {.job = job};
    if (job->dimensions < 1 || job->dimensions > HOBBLE_INDICES_MAX ||
        2 * job->dimensions > PLACES_MOST || job->outputs < 1 || job->outputs > HB_SOBOL_OUTPUTS ||
        job->base < HB_SOBOL_LEAST)
        return HOBBLE_E_RANGE;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_qrng *sequence = gsl_qrng_alloc(gsl_qrng_sobol, sequence_of(job));
    enum hobble_status status = HOBBLE_E_MEMORY;
    if (rng && sequence && make_room(&s)) {
        gsl_rng_set(rng, job->seed);
        status = draw(&s, rng, sequence);
    }
    if (status == HOBBLE_OK)
        status = run_all(&s);
    if (status == HOBBLE_OK)
        evaluate(&s, rng, result);
    release(&s);
    if (sequence)
        gsl_qrng_free(sequence);
    if (rng)
        gsl_rng_free(rng);
    return status;
}
