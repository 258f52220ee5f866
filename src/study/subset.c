/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/subset.h"

#include "solve/threads.h"

#include <math.h>
#include <stdlib.h>

void hb_subset_make(struct hb_ensemble *e, struct hb_subset *subset)
{
    *subset = (struct hb_subset){.tyre = e->arrays.test,
                                 .worth = hb_ensemble_worth(e),
                                 .required = hb_setting_value(e->settings, HB_P_REQUIRED_SHARE)};
    for (size_t i = 0; i < e->arrays.members; i++)
        if (hb_ensemble_counts(e, i))
            subset->tyre[subset->count++] = e->arrays.tyre[i];
}

bool hb_log_make(struct hb_log *log, size_t count, size_t legs)
{
    log->outcome = calloc(count, sizeof *log->outcome);
    log->record = calloc(count * legs, sizeof *log->record);
    log->value = calloc(count, sizeof *log->value);
    return log->outcome && log->record && log->value;
}

void hb_log_free(struct hb_log *log)
{
    free(log->outcome);
    free(log->record);
    free(log->value);
    *log = (struct hb_log){0};
}

void hb_subset_drive(const struct hb_subset *subset, const struct hb_plan *plan, struct hb_log *log)
{
    const struct hb_step_control steps = hb_step_control_default();
    hb_integrate_many(&plan->journey, &steps, subset->tyre, subset->count, log->outcome,
                      log->record);
}

void hb_subset_drive_shared(const struct hb_subset *subset, const struct hb_plan *plan, int threads,
                            struct hb_log *log)
{
    const struct hb_step_control steps = hb_step_control_default();
    hb_integrate_shared(&plan->journey, &steps, subset->tyre, subset->count, log->outcome,
                        log->record, threads);
}

double hb_subset_closure(const struct hb_subset *subset, const struct hb_log *log)
{
    double most = 0.0;
    for (size_t i = 0; i < subset->count; i++) {
        const struct hb_outcome *o = &log->outcome[i];
        const double miss = fabs(o->made - o->stored - o->to_air - o->to_road);
        most =
            fmax(most, miss / fmax(fabs(o->made), fmax(fabs(o->to_air) + fabs(o->to_road), 1.0)));
    }
    return most;
}

double hb_subset_reach(const struct hb_subset *subset, struct hb_log *log)
{
    for (size_t i = 0; i < subset->count; i++)
        log->value[i] = log->outcome[i].distance;
    hb_sort(log->value, subset->count);
    /* so many may fail; a hair more, for shares such as 0.95 that no double holds */
    const double may_fail = (1.0 - subset->required) * (double)subset->count;
    return log->value[(size_t)floor(may_fail + 1e-9)];
}

void hb_plan_beyond(const struct hb_question *q, double speed, double distance, double times,
                    struct hb_plan *plan)
{
    hb_plan_rule(q, speed, distance, plan);
    plan->leg[0].kind = HB_UNTIL_END;
    plan->leg[0].extent = 0.0;
    plan->journey.horizon_distance = times * distance;
}
