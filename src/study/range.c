/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solve/reference.h"
#include "study/study.h"

#include <math.h>
#include <stdlib.h>

/* The integrator against the reference solver on the middle tyre of this very question. */
static double solver_difference(const struct hb_study *s)
{
    const struct hb_step_control steps = hb_step_control_default();
    const struct hb_reference_options options = hb_reference_default();
    struct hb_plan plan;
    struct hb_tyre tyre;
    struct hb_outcome fast, slow;
    if (hb_unit_middle(&s->settings, &s->question.built.marking, &s->question.unit, &tyre) !=
        HOBBLE_OK)
        return (double)NAN;
    hb_plan_advised(&s->question, 0.0, &plan);
    hb_integrate_many(&plan.journey, &steps, &tyre, 1, &fast, NULL);
    if (hb_reference_run(&plan.journey, &tyre, &options, &slow, NULL) != HOBBLE_OK)
        return (double)NAN;
    return fabs(fast.distance - slow.distance) / fmax(slow.distance, 1.0);
}

/* What becomes of the tyre is judged without evidence, as hobble condition does. */
static enum hobble_status judge_after(struct hb_study *s, struct hobble_answer *answer,
                                      struct hobble_faults *sink)
{
    struct hb_study plain;
    const enum hobble_status status =
        hb_study_of(&s->settings, &s->question, s->ensemble.runner.threads, &plain, sink);
    if (status == HOBBLE_OK)
        hb_advise_after(&plain.ensemble, answer);
    hb_study_close(&plain);
    return status;
}

enum hobble_status hobble_range(const hobble_case *c, int threads, struct hobble_answer *out,
                                struct hobble_faults *sink)
{
    struct hb_study study;
    struct hobble_answer answer;
    enum hobble_status status = hb_study_open(c, threads, &study, sink);
    if (status == HOBBLE_OK)
        status = hb_advise(&study.ensemble, &answer);
    if (status == HOBBLE_OK && c->items > 0)
        status = judge_after(&study, &answer, sink);
    if (status == HOBBLE_OK) {
        answer.solver_difference = solver_difference(&study);
        *out = answer;
    }
    hb_study_close(&study);
    return status;
}

enum { LAST = HOBBLE_TRACE_POINTS - 1 };

/* The way cut into an instant now and then equal parts that go on from one another. */
static void cut_way(const struct hb_plan *plan, double distance, struct hb_leg *leg,
                    struct hb_journey *journey)
{
    *journey = plan->journey;
    journey->leg = leg;
    journey->count = plan->now + HOBBLE_TRACE_POINTS;
    for (size_t i = 0; i < plan->now; i++)
        leg[i] = plan->leg[i];
    for (size_t i = 0; i < HOBBLE_TRACE_POINTS; i++) {
        struct hb_leg *part = &leg[plan->now + i];
        *part = plan->leg[plan->now];
        part->kind = i == 0 ? HB_FOR_TIME : HB_FOR_DISTANCE;
        part->extent = i == 0 ? 0.01 : distance / LAST;
        part->goes_on = i > 0;
    }
}

static double over_members(const struct hb_study *s, const struct hb_record *record, size_t legs,
                           size_t leg, double p, bool life)
{
    const struct hb_arrays *r = &s->ensemble.arrays;
    size_t n = 0;
    for (size_t i = 0; i < r->members; i++)
        if (hb_ensemble_counts(&s->ensemble, i))
            r->sorted[n++] = life ? record[i * legs + leg].life : record[i * legs + leg].hottest;
    return hb_quantile(r->sorted, n, p);
}

static double share_alive(const struct hb_study *s, double way, size_t now, size_t legs,
                          const struct hb_record *record)
{
    const struct hb_arrays *r = &s->ensemble.arrays;
    double n = 0, alive = 0;
    for (size_t i = 0; i < r->members; i++)
        if (hb_ensemble_counts(&s->ensemble, i)) {
            const double from = now > 0 ? record[i * legs + now - 1].distance : 0.0;
            n++;
            alive += r->outcome[i].end == HB_END_NONE || r->outcome[i].distance - from > way;
        }
    return alive / n;
}

static void read_trace(const struct hb_study *s, const struct hb_plan *plan, double distance,
                       size_t legs, const struct hb_record *record,
                       struct hobble_trace_point point[HOBBLE_TRACE_POINTS])
{
    for (size_t k = 0; k <= LAST; k++) {
        const size_t leg = plan->now + k;
        struct hobble_trace_point *p = &point[k];
        p->distance = distance * (double)k / LAST;
        p->time = p->distance / plan->leg[plan->now].speed;
        p->wall5 = over_members(s, record, legs, leg, 0.05, false);
        p->wall50 = over_members(s, record, legs, leg, 0.50, false);
        p->wall95 = over_members(s, record, legs, leg, 0.95, false);
        p->life5 = over_members(s, record, legs, leg, 0.05, true);
        p->life50 = over_members(s, record, legs, leg, 0.50, true);
        p->life95 = over_members(s, record, legs, leg, 0.95, true);
        p->alive = share_alive(s, p->distance, plan->now, legs, record);
    }
}

enum hobble_status hobble_trace(const hobble_case *c, int threads, double distance,
                                struct hobble_trace_point point[HOBBLE_TRACE_POINTS],
                                struct hobble_faults *sink)
{
    struct hb_study s;
    struct hb_plan plan;
    struct hb_journey journey;
    struct hb_leg leg[HB_ARRAY_LEGS + HOBBLE_TRACE_POINTS];
    struct hb_record *record = NULL;
    if (!(distance > 0.0 && distance <= 2000e3))
        return HOBBLE_E_RANGE;
    enum hobble_status status = hb_study_open(c, threads, &s, sink);
    if (status == HOBBLE_OK) {
        const struct hb_arrays *r = &s.ensemble.arrays;
        const struct hb_step_control steps = hb_step_control_default();
        const struct hb_way way = {s.question.advised_speed, s.question.load, distance, true,
                                   hb_advise_past(&s.ensemble)};
        hb_plan_from_now(&s.question, &way, &plan); /* the past that the advice rests on */
        cut_way(&plan, distance, leg, &journey);
        record = calloc(r->members * journey.count, sizeof *record);
        status = record ? HOBBLE_OK : HOBBLE_E_MEMORY;
        if (record) {
            s.ensemble.runner.run(&journey, &steps, r->tyre, r->members, r->outcome, record,
                                  threads);
            read_trace(&s, &plan, distance, journey.count, record, point);
        }
    }
    free(record);
    hb_study_close(&s);
    return status;
}
