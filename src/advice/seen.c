/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/seen.h"

#include <math.h>
#include <stddef.h>

/* The order statistic at or above a share p: a high quantile is never flattered. Sorts values. */
static double cautious(double *values, size_t n, double p)
{
    hb_sort(values, n);
    return values[(size_t)ceil(p * (double)(n - 1))];
}

static double of_records(struct hb_ensemble *e, const struct hb_plan *plan, size_t leg,
                         size_t offset, double p)
{
    const struct hb_arrays *r = &e->arrays;
    for (size_t i = 0; i < r->members; i++) {
        const struct hb_record *m = &r->record[i * plan->journey.count + leg];
        r->sorted[i] = *(const double *)(const void *)((const char *)m + offset);
    }
    return cautious(r->sorted, r->members, p);
}

static double of_outcomes(struct hb_ensemble *e, size_t offset, double p)
{
    const struct hb_arrays *r = &e->arrays;
    for (size_t i = 0; i < r->members; i++)
        r->sorted[i] = *(const double *)(const void *)((const char *)&r->outcome[i] + offset);
    return cautious(r->sorted, r->members, p);
}

static void read_rim(struct hb_ensemble *e, struct hobble_drive *seen)
{
    const struct hb_arrays *r = &e->arrays;
    double on = 0.0;
    for (size_t i = 0; i < r->members; i++) {
        const double deepest = r->outcome[i].deflection_most / r->tyre[i].deflection_max;
        on += r->outcome[i].end == HB_END_RIM || deepest >= 1.0;
        r->sorted[i] = deepest;
    }
    seen->rim_share = on / (double)r->members;
    seen->deflection_p95 = cautious(r->sorted, r->members, 0.95);
}

/* What was driven: the worst air, the highest speed, all of the way. */
static void read_way(const struct hb_ensemble *e, const struct hb_plan *plan, size_t leg,
                     struct hobble_drive *seen)
{
    const struct hb_question *q = e->question;
    const struct hb_leg *last = &plan->leg[leg];
    seen->pressure = q->past.lowest;
    seen->speed = q->past.fastest;
    seen->distance = q->past.run_unseen + q->past.run_seen;
    seen->load = q->load;
    seen->ambient = q->ambient;
    for (size_t i = 0; i <= leg; i++) {
        seen->load = fmax(seen->load, plan->leg[i].load);
        seen->ambient = fmax(seen->ambient, plan->leg[i].ambient);
    }
    if (leg < plan->now)
        return;
    seen->pressure = fmin(seen->pressure, last->pressure);
    seen->speed = fmax(seen->speed, last->speed);
    seen->distance += last->extent;
}

void hb_drive_read(struct hb_ensemble *e, const struct hb_plan *plan, size_t leg,
                   struct hobble_drive *seen)
{
#define RECORD(field, p) of_records(e, plan, leg, offsetof(struct hb_record, field), p)
#define OUTCOME(field)   of_outcomes(e, offsetof(struct hb_outcome, field), 0.95)
    *seen = (struct hobble_drive){.run = true};
    read_way(e, plan, leg, seen);
    seen->peak_p50 = RECORD(peak, 0.5);
    seen->peak_p95 = RECORD(peak, 0.95);
    seen->life_p50 = RECORD(life, 0.5);
    seen->life_p95 = RECORD(life, 0.95);
    seen->above_80 = OUTCOME(above_80);
    seen->above_100 = OUTCOME(above_100);
    seen->above_120 = OUTCOME(above_120);
    read_rim(e, seen);
#undef RECORD
#undef OUTCOME
}
