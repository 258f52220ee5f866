/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/ensemble.h"

#include "advice/levels.h"

#include <math.h>

void hb_sort(double *values, size_t n)
{
    /* heap sort: no recursion, no extra room, no worst case */
    size_t heap = n / 2, end = n;
    while (end > 1) {
        double moving;
        if (heap > 0) {
            moving = values[--heap];
        } else {
            moving = values[--end];
            values[end] = values[0];
        }
        size_t hole = heap;
        for (size_t child = 2 * hole + 1; child < end; child = 2 * hole + 1) {
            if (child + 1 < end && values[child + 1] > values[child])
                child++;
            if (values[child] <= moving)
                break;
            values[hole] = values[child];
            hole = child;
        }
        values[hole] = moving;
    }
}

double hb_quantile(double *values, size_t n, double p)
{
    hb_sort(values, n);
    return values[(size_t)floor(p * (double)(n - 1))];
}

bool hb_ensemble_counts(const struct hb_ensemble *e, size_t i)
{
    return e->passed == 0 || e->arrays.passed[i];
}

size_t hb_ensemble_counted(const struct hb_ensemble *e)
{
    return e->passed > 0 ? (size_t)e->passed : e->arrays.members;
}

int hb_ensemble_passed(const struct hb_ensemble *e)
{
    return e->taken.items > 0 ? e->taken.passed : e->passed;
}

double hb_ensemble_worth(const struct hb_ensemble *e)
{
    const double counted = (double)hb_ensemble_counted(e);
    return e->taken.items > 0 ? fmax(fmin(counted, e->taken.effective), 1.0) : counted;
}

static void note_closure(struct hb_ensemble *e)
{
    for (size_t i = 0; i < e->arrays.members; i++) {
        const struct hb_outcome *o = &e->arrays.outcome[i];
        const double miss = fabs(o->made - o->stored - o->to_air - o->to_road);
        const double scale = fmax(fabs(o->made), fmax(fabs(o->to_air) + fabs(o->to_road), 1.0));
        e->closure = fmax(e->closure, miss / scale);
    }
}

/* Section "What is known of a tyre". sorted: how long each is to last. */
static void tie_types(struct hb_ensemble *e)
{
    const struct hb_arrays *r = &e->arrays;
    const double test = hb_drum_test_seconds(e->settings);
    for (size_t i = 0; i < r->members; i++)
        r->sorted[i] *= test;
    hb_anchor(&(struct hb_anchor){.runner = e->runner,
                                  .marking = &e->question->built.marking,
                                  .test = test,
                                  .count = r->members,
                                  .last = r->sorted,
                                  .law = r->tyre,
                                  .tyre = r->test,
                                  .outcome = r->outcome,
                                  .record = r->record,
                                  .used = r->used,
                                  .anchored = r->tied,
                                  .passed = r->passed});
    note_closure(e);
    e->tested = (int)r->members;
    for (size_t i = 0; i < r->members; i++) {
        r->tyre[i].life_per_metre = r->test[i].life_per_metre;
        r->tyre[i].life_per_force = r->test[i].life_per_force;
        r->tyre[i].life_inverse_ref = r->test[i].life_inverse_ref;
        e->tied += r->tied[i];
        e->passed += r->passed[i];
    }
}

static bool ties(const struct hb_ensemble *e)
{
    return hb_has_drum_test(e->question->built.construction) && !e->untied;
}

/* Types without a test are of the same rubber as those with one, and scatter as they do. */
static enum hobble_status take_reference(struct hb_ensemble *e, struct hb_life_reference *life)
{
    return ties(e) ? HOBBLE_OK : hb_calibrate(e->settings, &e->question->built.marking, life);
}

static void build_types(const double *cube, const struct hb_life_reference *life,
                        struct hb_ensemble *e)
{
    const size_t dimensions = (size_t)hb_param_dimensions();
    const double middle = hb_setting_value(e->settings, HB_P_MARGIN);
    for (size_t i = 0; i < e->arrays.members; i++) {
        struct hb_tyre *t = &e->arrays.tyre[i];
        struct hb_draw draw;
        hb_draw(e->settings, &cube[i * dimensions], &draw);
        hb_build(e->settings, &e->question->built.marking, &draw, ties(e) ? NULL : life, t);
        t->life_per_metre *= middle / draw.value[HB_P_MARGIN];
        e->arrays.test[i] = *t;
        hb_put_on_drum(&e->arrays.test[i], HB_DRUM_RADIUS);
        e->arrays.sorted[i] = draw.value[HB_P_MARGIN];
        e->arrays.tied[i] = e->arrays.passed[i] = false;
    }
}

static void take_units(const double *cube, struct hb_ensemble *e)
{
    const size_t dimensions = (size_t)hb_param_dimensions();
    const struct hb_unit best = hb_unit_at_best(e->settings);
    for (size_t i = 0; i < e->arrays.members; i++) {
        const double *normal = &cube[i * dimensions];
        struct hb_tyre *t = &e->arrays.tyre[i], good = *t;
        struct hb_draw draw;
        hb_draw(e->settings, normal, &draw);
        hb_unit_take(e->settings, &best, &draw, normal, &good);
        hb_unit_take(e->settings, &e->question->unit, &draw, normal, t);
        e->arrays.best[i] = good.life_per_metre;
    }
}

enum hobble_status hb_ensemble_make(const double *cube, struct hb_ensemble *e)
{
    struct hb_life_reference life = {0};
    const enum hobble_status status = take_reference(e, &life);
    if (status != HOBBLE_OK)
        return status;
    e->tested = e->tied = e->passed = 0;
    e->closure = 0.0;
    build_types(cube, &life, e);
    if (ties(e))
        tie_types(e);
    take_units(cube, e);
    return HOBBLE_OK;
}

static void run_one(const struct hb_journey *journey, const struct hb_step_control *steps,
                    const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                    struct hb_record *record, int threads)
{
    (void)threads;
    hb_integrate_many(journey, steps, tyre, count, out, record);
}

enum hobble_status hb_ensemble_middle(const struct hb_ensemble *e, struct hb_tyre *tyre)
{
    struct hb_tyre test;
    bool tied = false, passed = false;
    double used, best, sorted;
    struct hb_outcome outcome;
    struct hb_record record[HB_ANCHOR_LEGS];
    struct hb_ensemble one = {
        .settings = e->settings,
        .question = e->question,
        .runner = {run_one, 1},
        .arrays = {1, tyre, &test, &tied, &passed, &used, &best, &outcome, record, &sorted}};
    if (e->taken.items == 0)
        return hb_unit_middle(e->settings, &e->question->built.marking, &e->question->unit, tyre);
    const enum hobble_status status = hb_ensemble_make(e->taken.moved, &one);
    return status == HOBBLE_OK && ties(&one) && !tied ? HOBBLE_E_NOT_CONVERGED : status;
}

void hb_ensemble_drive(struct hb_ensemble *e, const struct hb_plan *plan)
{
    const struct hb_step_control steps = hb_step_control_default();
    e->runner.run(&plan->journey, &steps, e->arrays.tyre, e->arrays.members, e->arrays.outcome,
                  e->arrays.record, e->runner.threads);
    note_closure(e);
}

static void swap_lives(struct hb_ensemble *e)
{
    for (size_t i = 0; i < e->arrays.members; i++) {
        const double other = e->arrays.best[i];
        e->arrays.best[i] = e->arrays.tyre[i].life_per_metre;
        e->arrays.tyre[i].life_per_metre = other;
    }
}

void hb_ensemble_drive_at_best(struct hb_ensemble *e, const struct hb_plan *plan)
{
    swap_lives(e);
    hb_ensemble_drive(e, plan);
    swap_lives(e);
}

double hb_ensemble_remaining(const struct hb_ensemble *e, const struct hb_plan *plan, size_t i)
{
    if (plan->now == 0)
        return e->arrays.outcome[i].distance;
    const struct hb_record *now = &e->arrays.record[i * plan->journey.count + plan->now - 1];
    return fmax(e->arrays.outcome[i].distance - now->distance, 0.0);
}

struct hobble_band hb_ensemble_band(struct hb_ensemble *e, const struct hb_plan *plan)
{
    size_t n = 0;
    double horizon = HUGE_VAL; /* the shortest distance at which the horizon cut a member */
    for (size_t i = 0; i < e->arrays.members; i++) {
        if (!hb_ensemble_counts(e, i))
            continue;
        const double left = hb_ensemble_remaining(e, plan, i);
        if (e->arrays.outcome[i].end == HB_END_HORIZON)
            horizon = fmin(horizon, left);
        e->arrays.sorted[n++] = left;
    }
    struct hobble_band band = {0};
    if (n == 0)
        return band;
    band.p5 = hb_quantile(e->arrays.sorted, n, 0.05);
    band.p50 = hb_quantile(e->arrays.sorted, n, 0.50);
    band.p95 = hb_quantile(e->arrays.sorted, n, 0.95);
    band.censored5 = band.p5 >= horizon;
    band.censored50 = band.p50 >= horizon;
    band.censored95 = band.p95 >= horizon;
    return band;
}
