/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Life used along a journey with stops. */
#include "study/study.h"

#include <math.h>
#include <stdlib.h>

/* Without legs: three drives of the rule's speed or less and two stops (invented); with
 * what is driven before the warning no farther than the rule allows. */
static const struct {
    double distance, time; /* m, or s of a stop */
} ours[] = {{25e3, 0}, {0, 1200}, {25e3, 0}, {0, 3600}, {13e3, 0}};
enum { OURS = sizeof ours / sizeof *ours, PARTS_LEAST = 4 };

/* Legs cut into parts that go on from one another. */
struct way {
    struct hb_leg leg[HOBBLE_LIFE_POINTS];
    struct hb_journey journey;
};

static double leg_time(const struct hb_leg *leg)
{
    return leg->kind == HB_FOR_TIME ? leg->extent : leg->extent / leg->speed;
}

/* Parts of a leg by its share of the time, so that points stand evenly. */
static void cut(const struct hb_leg *leg, size_t count, struct way *way)
{
    double all = 0.0;
    size_t n = 0;
    for (size_t i = 0; i < count; i++)
        all += leg_time(&leg[i]);
    const double spare = HOBBLE_LIFE_POINTS - 2.0 - PARTS_LEAST * (double)count;
    for (size_t i = 0; i < count; i++) {
        const int parts = PARTS_LEAST + (int)(spare * leg_time(&leg[i]) / all);
        for (int k = 0; k < parts && n < HOBBLE_LIFE_POINTS; k++) {
            way->leg[n] = leg[i];
            way->leg[n].extent = leg[i].extent / parts;
            way->leg[n].goes_on = k > 0 || leg[i].goes_on;
            way->leg[n].set_pressure = k == 0 && leg[i].set_pressure;
            n++;
        }
    }
    way->journey.count = n;
    way->journey.leg = way->leg;
}

static size_t our_legs(const struct hb_question *q, struct hb_leg *leg)
{
    struct hb_plan plan;
    hb_plan_advised(q, ours[0].distance, &plan);
    for (size_t i = 0; i < plan.journey.count; i++)
        leg[i] = plan.leg[i];
    size_t n = plan.journey.count;
    for (size_t i = 1; i < OURS; i++) {
        const bool stop = ours[i].time > 0.0;
        leg[n] = leg[plan.journey.count - 1];
        leg[n].set_pressure = false;
        leg[n].kind = stop ? HB_FOR_TIME : HB_FOR_DISTANCE;
        leg[n].extent = stop ? ours[i].time : ours[i].distance;
        leg[n].speed = stop ? 0.0 : q->advised_speed;
        n++;
    }
    return n;
}

static double over_members(struct hb_study *s, const struct hb_record *record, size_t legs,
                           size_t leg, double p, bool life)
{
    const struct hb_arrays *r = &s->ensemble.arrays;
    size_t n = 0;
    for (size_t i = 0; i < r->members; i++)
        if (hb_ensemble_counts(&s->ensemble, i))
            r->sorted[n++] = life ? record[i * legs + leg].life : record[i * legs + leg].hottest;
    return hb_quantile(r->sorted, n, p);
}

static double alive_at(const struct hb_study *s, double time)
{
    const struct hb_arrays *r = &s->ensemble.arrays;
    double n = 0.0, alive = 0.0;
    for (size_t i = 0; i < r->members; i++)
        if (hb_ensemble_counts(&s->ensemble, i)) {
            n++;
            alive += r->outcome[i].end == HB_END_NONE || r->outcome[i].time > time;
        }
    return alive / n;
}

static void read_points(struct hb_study *s, const struct way *way, const struct hb_record *record,
                        struct hobble_life *out)
{
    double time = 0.0, distance = 0.0;
    out->count = (int)way->journey.count;
    for (size_t i = 0; i < way->journey.count; i++) {
        struct hobble_life_point *p = &out->point[i];
        const double seconds = leg_time(&way->leg[i]);
        time += seconds;
        distance += seconds * way->leg[i].speed;
        *p = (struct hobble_life_point){
            .time = time,
            .way = distance,
            .speed = way->leg[i].speed,
            .life5 = over_members(s, record, way->journey.count, i, 0.05, true),
            .life50 = over_members(s, record, way->journey.count, i, 0.50, true),
            .life95 = over_members(s, record, way->journey.count, i, 0.95, true),
            .wall50 = over_members(s, record, way->journey.count, i, 0.50, false),
            .alive = alive_at(s, time),
        };
    }
}

static enum hobble_status drive(struct hb_study *s, int threads, struct hobble_life *out)
{
    struct hb_leg leg[HB_HISTORY_LEGS + OURS + 4];
    struct way way = {.journey.count = 0};
    struct hb_plan plan;
    const struct hb_question *q = &s->question;
    const struct hb_step_control steps = hb_step_control_default();
    const struct hb_arrays *r = &s->ensemble.arrays;
    hb_plan_advised(q, 0.0, &plan);
    way.journey = plan.journey;
    if (out->ours)
        cut(leg, our_legs(q, leg), &way);
    else
        cut(q->past.leg, q->past.count, &way);
    struct hb_record *record = calloc(r->members * way.journey.count, sizeof *record);
    if (!record)
        return HOBBLE_E_MEMORY;
    s->ensemble.runner.run(&way.journey, &steps, r->tyre, r->members, r->outcome, record, threads);
    read_points(s, &way, record, out);
    free(record);
    return HOBBLE_OK;
}

enum hobble_status hobble_life_make(const hobble_case *c, int threads, struct hobble_life *out,
                                    struct hobble_faults *sink)
{
    struct hb_study s;
    struct hobble_life *life = calloc(1, sizeof *life);
    enum hobble_status status = hb_study_open(c, threads, &s, sink);
    if (status == HOBBLE_OK && c->items > 0)
        status = hb_case_agrees(c, s.ensemble.taken.against, sink);
    if (!life)
        status = HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK) {
        life->ours = c->legs == 0;
        life->load = s.question.load;
        life->ambient = s.question.ambient;
        life->marking = s.question.built.marking;
        life->example = s.question.built.example;
        life->tested = s.ensemble.tested;
        life->passed = s.ensemble.passed;
        status = drive(&s, threads, life);
    }
    if (status == HOBBLE_OK)
        *out = *life;
    free(life);
    hb_study_close(&s);
    return status;
}
