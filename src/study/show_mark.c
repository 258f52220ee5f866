/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the approval mark is worth: the same drive by types that nothing is known of but what they
 * are made of, by the same types tied to the test that their mark says they passed, and by those
 * that the profile's evidence leaves of them. */
#include "study/show.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

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

/* Ranks among n that are worth fewer: those of the fewer, at their places among all. */
static void ranks_of(size_t n, double worth, double share, size_t *low, size_t *high)
{
    const double each = (double)n / floor(worth);
    hobble_quantile_ranks((size_t)worth, share, low, high);
    *low = (size_t)floor((double)*low * each);
    *high = (size_t)fmin(ceil(((double)*high + 1.0) * each), (double)n) - 1;
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
        ranks_of(n, hb_ensemble_worth(e), share[k], &low, &high);
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

/* With the mark, and then without it. */
static enum hobble_status look(struct hb_study *s, struct hobble_mark_worth *out)
{
    const struct hb_question *q = &s->question;
    struct hb_plan plan;
    hb_plan_advised(q, 0.0, &plan);
    hb_ensemble_drive(&s->ensemble, &plan);
    read_ranges(&s->ensemble, &plan, out->after, out->curve_after);
    out->tested = s->ensemble.tested;
    out->passed = s->ensemble.passed;
    out->speed = q->advised_speed;
    out->load = q->load;
    out->ambient = q->ambient;
    out->cap = q->cap.distance;
    out->marking = q->built.marking;
    out->example = q->built.example;
    read_rows(s, out);
    s->ensemble.untied = true;
    const enum hobble_status status = hb_ensemble_make(s->cube, &s->ensemble);
    if (status != HOBBLE_OK)
        return status;
    hb_ensemble_drive(&s->ensemble, &plan);
    read_ranges(&s->ensemble, &plan, out->before, out->curve_before);
    return HOBBLE_OK;
}

/* With the mark and with what else is known of the tyre. */
static enum hobble_status look_again(const hobble_case *c, int threads,
                                     struct hobble_mark_worth *out, struct hobble_faults *sink)
{
    struct hb_study s;
    struct hb_plan plan;
    enum hobble_status status = hb_study_open(c, threads, &s, sink);
    if (status == HOBBLE_OK)
        status = hb_case_agrees(c, s.ensemble.taken.against, sink);
    if (status == HOBBLE_OK) {
        hb_plan_advised(&s.question, 0.0, &plan);
        hb_ensemble_drive(&s.ensemble, &plan);
        read_ranges(&s.ensemble, &plan, out->known, out->curve_known);
        out->evidence_items = s.ensemble.taken.items;
        out->evidence_effective = s.ensemble.taken.effective;
    }
    hb_study_close(&s);
    return status;
}

enum hobble_status hobble_mark_make(const hobble_case *c, int threads,
                                    struct hobble_mark_worth *out, struct hobble_faults *sink)
{
    struct hb_study s = {0};
    struct hb_question question;
    struct hobble_mark_worth worth = {.count = 0};
    enum hobble_status status = hb_question_make(&c->settings, c->leg, c->legs, &question, sink);
    if (status == HOBBLE_OK)
        status = hb_study_of(&c->settings, &question, threads, &s, sink);
    if (status == HOBBLE_OK)
        status = look(&s, &worth);
    hb_study_close(&s);
    if (status == HOBBLE_OK && c->items > 0)
        status = look_again(c, threads, &worth, sink);
    if (status == HOBBLE_OK)
        *out = worth;
    return status;
}
