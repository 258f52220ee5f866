/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/ensemble.h"

#include "core/const.h"

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

bool hb_ensemble_counts(const struct hb_ensemble *e, bool passed_only, size_t i)
{
    return !passed_only || e->arrays.passed[i];
}

/* Types whose mark says that they passed a flat-tyre test. */
static bool has_test(enum hb_construction built)
{
    return built == HB_SELF_SUPPORTING || built == HB_EXTENDED_MOBILITY;
}

/* Draws of a type's own properties; the unit's are as in the table, whatever is known of this one:
 * the tyre that was tested was a new one. */
static void draw_type(const struct hb_settings *settings, const double *from, struct hb_draw *draw)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    hb_draw(settings, from, draw);
    for (int i = 0; i < HB_PARAM_COUNT; i++)
        if (row[i].stage == HOBBLE_WITH_UNIT)
            draw->value[i] = row[i].value;
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

/* Section "The approval test as evidence". */
static void test_types(struct hb_ensemble *e)
{
    const struct hb_step_control steps = hb_step_control_default();
    struct hb_drum_test test;
    hb_drum_test(&e->question->built.marking, hb_drum_test_seconds(e->settings), &test);
    e->runner.run(&test.journey, &steps, e->arrays.test, e->arrays.members, e->arrays.outcome,
                  e->arrays.record, e->runner.threads);
    note_closure(e);
    e->tested = (int)e->arrays.members;
    for (size_t i = 0; i < e->arrays.members; i++) {
        const struct hb_outcome *o = &e->arrays.outcome[i];
        const double before = e->arrays.test[i].section_height - o->deflection_start;
        const double after = e->arrays.test[i].section_height -
                             e->arrays.record[i * HB_DRUM_LEGS + HB_DRUM_LEGS - 1].deflection;
        e->arrays.passed[i] =
            o->end == HB_END_NONE && fabs(before - after) <= HB_DRUM_HEIGHT_CHANGE * before;
        e->passed += e->arrays.passed[i];
    }
}

enum hobble_status hb_ensemble_make(const double *cube, struct hb_ensemble *e)
{
    const int dimensions = hb_param_dimensions();
    const enum hobble_status status =
        hb_calibrate(e->settings, &e->question->built.marking, &e->life);
    if (status != HOBBLE_OK)
        return status;
    e->tested = e->passed = 0;
    e->closure = 0.0;
    for (size_t i = 0; i < e->arrays.members; i++) {
        const double *normal = &cube[i * (size_t)dimensions];
        struct hb_draw draw;
        hb_draw(e->settings, normal, &draw);
        hb_build(e->settings, &e->question->built.marking, &draw, &e->life, &e->arrays.tyre[i]);
        draw_type(e->settings, normal, &draw);
        hb_build(e->settings, &e->question->built.marking, &draw, &e->life, &e->arrays.test[i]);
        hb_put_on_drum(&e->arrays.test[i], HB_DRUM_RADIUS);
        hb_steady_hand(&e->arrays.test[i]);
        e->arrays.passed[i] = false;
    }
    if (has_test(e->question->built.construction))
        test_types(e);
    return HOBBLE_OK;
}

void hb_ensemble_drive(struct hb_ensemble *e, const struct hb_plan *plan)
{
    const struct hb_step_control steps = hb_step_control_default();
    e->runner.run(&plan->journey, &steps, e->arrays.tyre, e->arrays.members, e->arrays.outcome,
                  e->arrays.record, e->runner.threads);
    note_closure(e);
}

double hb_ensemble_remaining(const struct hb_ensemble *e, const struct hb_plan *plan, size_t i)
{
    if (plan->now == 0)
        return e->arrays.outcome[i].distance;
    const struct hb_record *now = &e->arrays.record[i * plan->journey.count + plan->now - 1];
    return fmax(e->arrays.outcome[i].distance - now->distance, 0.0);
}

struct hobble_band hb_ensemble_band(struct hb_ensemble *e, const struct hb_plan *plan,
                                    bool passed_only)
{
    size_t n = 0;
    double horizon = HUGE_VAL; /* the shortest distance at which the horizon cut a member */
    for (size_t i = 0; i < e->arrays.members; i++) {
        if (!hb_ensemble_counts(e, passed_only, i))
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
