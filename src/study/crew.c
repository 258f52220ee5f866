/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/crew.h"

#include "solve/threads.h"

#include <math.h>
#include <stdlib.h>

void hb_crew_make(struct hb_ensemble *e, struct hb_crew *crew)
{
    *crew = (struct hb_crew){.tyre = e->room.test,
                             .required = hb_setting_value(e->settings, HB_P_REQUIRED_SHARE)};
    for (size_t i = 0; i < e->room.members; i++)
        if (hb_ensemble_counts(e, e->passed > 0, i))
            crew->tyre[crew->count++] = e->room.tyre[i];
}

bool hb_log_make(struct hb_log *log, size_t count, size_t legs)
{
    log->outcome = calloc(count, sizeof *log->outcome);
    log->mark = calloc(count * legs, sizeof *log->mark);
    log->value = calloc(count, sizeof *log->value);
    return log->outcome && log->mark && log->value;
}

void hb_log_free(struct hb_log *log)
{
    free(log->outcome);
    free(log->mark);
    free(log->value);
    *log = (struct hb_log){0};
}

void hb_crew_drive(const struct hb_crew *crew, const struct hb_plan *plan, struct hb_log *log)
{
    const struct hb_pace pace = hb_pace_default();
    struct hb_journey journey = plan->journey;
    journey.leg = plan->leg;
    hb_march_many(&journey, &pace, crew->tyre, crew->count, log->outcome, log->mark);
}

void hb_crew_drive_shared(const struct hb_crew *crew, const struct hb_plan *plan, int threads,
                          struct hb_log *log)
{
    const struct hb_pace pace = hb_pace_default();
    struct hb_journey journey = plan->journey;
    journey.leg = plan->leg;
    hb_march_shared(&journey, &pace, crew->tyre, crew->count, log->outcome, log->mark, threads);
}

double hb_crew_closure(const struct hb_crew *crew, const struct hb_log *log)
{
    double most = 0.0;
    for (size_t i = 0; i < crew->count; i++) {
        const struct hb_outcome *o = &log->outcome[i];
        const double miss = fabs(o->made - o->stored - o->to_air - o->to_road);
        most =
            fmax(most, miss / fmax(fabs(o->made), fmax(fabs(o->to_air) + fabs(o->to_road), 1.0)));
    }
    return most;
}

double hb_crew_reach(const struct hb_crew *crew, struct hb_log *log)
{
    for (size_t i = 0; i < crew->count; i++)
        log->value[i] = log->outcome[i].distance;
    hb_sort(log->value, crew->count);
    /* so many may fail; a hair more, for shares such as 0.95 that no double holds */
    const double may_fail = (1.0 - crew->required) * (double)crew->count;
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
