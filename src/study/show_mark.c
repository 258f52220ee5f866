/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the approval mark is worth: the same drive by types that nothing is known of but what they
 * are made of, and by the same types tied to the test that their mark says they passed. */
#include "study/show.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>
#include <stdlib.h>

#define TAIL 0.025

void hobble_quantile_ranks(size_t n, double p, size_t *low, size_t *high)
{
    /* the r-th smallest of n lies above the quantile with the chance that fewer than r of n draws
     * lie below it: P(X <= r - 1), X binomial */
    size_t least = 0, most = n > 0 ? n - 1 : 0;
    while (least + 1 < n && gsl_cdf_binomial_P((unsigned)least + 1, p, (unsigned)n) <= TAIL)
        least++;
    while (most > 0 && gsl_cdf_binomial_Q((unsigned)(most - 1), p, (unsigned)n) <= TAIL)
        most--;
    *low = least;
    *high = most;
}

struct hobble_moments hb_moments(const double *value, size_t n)
{
    double sum = 0.0, squares = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += value[i];
    const double mean = sum / (double)n;
    for (size_t i = 0; i < n; i++)
        squares += (value[i] - mean) * (value[i] - mean);
    return (struct hobble_moments){mean, n > 1 ? sqrt(squares / ((double)n - 1.0)) : 0.0};
}

/* Ranges of the members that count, sorted; returns their number. */
static size_t sorted_ranges(struct hb_ensemble *e, const struct hb_plan *plan, double *horizon)
{
    size_t n = 0;
    *horizon = HUGE_VAL;
    for (size_t i = 0; i < e->arrays.members; i++)
        if (hb_ensemble_counts(e, i)) {
            const double left = hb_ensemble_remaining(e, plan, i);
            if (e->arrays.outcome[i].end == HB_END_HORIZON)
                *horizon = fmin(*horizon, left);
            e->arrays.sorted[n++] = left;
        }
    hb_sort(e->arrays.sorted, n);
    return n;
}

static void read_ranges(struct hb_ensemble *e, const struct hb_plan *plan,
                        struct hobble_quantile quantile[3], double *curve)
{
    static const double share[] = {0.05, 0.50, 0.95};
    double horizon;
    const size_t n = sorted_ranges(e, plan, &horizon);
    const double *x = e->arrays.sorted;
    for (int k = 0; k < 3; k++) {
        size_t low, high;
        hobble_quantile_ranks(n, share[k], &low, &high);
        const double at = x[(size_t)floor(share[k] * (double)(n - 1))];
        quantile[k] = (struct hobble_quantile){at, x[low], x[high], at >= horizon};
    }
    for (int i = 0; i < HOBBLE_MARK_POINTS; i++)
        curve[i] = x[(size_t)((i + 0.5) / HOBBLE_MARK_POINTS * (double)n)];
}

/* Drawn values of every uncertain row, of all members and of those that passed. */
static void read_rows(struct hb_study *s, struct hobble_mark_worth *out)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    const struct hb_arrays *r = &s->ensemble.arrays;
    const size_t d = (size_t)hb_param_dimensions();
    for (int i = 0; i < HB_PARAM_COUNT && out->count < HOBBLE_INDICES_MAX; i++) {
        if (row[i].stage == HOBBLE_NOT_DRAWN)
            continue;
        for (int passed = 0; passed < 2; passed++) {
            size_t n = 0;
            for (size_t m = 0; m < r->members; m++) {
                struct hb_draw draw;
                if (passed && !hb_ensemble_counts(&s->ensemble, m))
                    continue;
                hb_draw(&s->settings, &s->cube[m * d], &draw);
                r->sorted[n++] = draw.value[i];
            }
            struct hobble_moments *at = passed ? out->row_after : out->row_before;
            at[out->count] = hb_moments(r->sorted, n);
        }
        out->row[out->count++] = i;
    }
}

enum hobble_status hobble_mark_make(const hobble_case *c, int threads,
                                    struct hobble_mark_worth *out, struct hobble_faults *sink)
{
    struct hb_study s;
    struct hobble_mark_worth worth = {.count = 0};
    enum hobble_status status = hb_case_no_evidence(c, sink); /* what the mark alone is worth */
    memset(&s, 0, sizeof s);
    if (status == HOBBLE_OK)
        status = hb_study_open(c, threads, &s, sink);
    if (status == HOBBLE_OK) {
        const struct hb_question *q = &s.question;
        struct hb_plan plan;
        hb_plan_advised(q, 0.0, &plan);
        hb_ensemble_drive(&s.ensemble, &plan);
        read_ranges(&s.ensemble, &plan, worth.after, worth.curve_after);
        worth.tested = s.ensemble.tested;
        worth.passed = s.ensemble.passed;
        worth.speed = q->advised_speed;
        worth.load = q->load;
        worth.ambient = q->ambient;
        worth.cap = q->cap.distance;
        worth.marking = q->built.marking;
        worth.example = q->built.example;
        read_rows(&s, &worth);
        s.ensemble.untied = true;
        status = hb_ensemble_make(s.cube, &s.ensemble);
        hb_ensemble_drive(&s.ensemble, &plan);
        read_ranges(&s.ensemble, &plan, worth.before, worth.curve_before);
    }
    if (status == HOBBLE_OK) {
        *out = worth;
    }
    hb_study_close(&s);
    return status;
}
