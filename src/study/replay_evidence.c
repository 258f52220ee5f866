/* SPDX-License-Identifier: GPL-3.0-or-later */
/* replay_evidence.c - a recorded drive as an item of evidence, where one speed tells of it. */
#include "core/build.h"
#include "study/case.h"

#include <math.h>
#include <stdlib.h>

/* An item is told by one speed: what is steadier than this is a run (assumed, no source). */
#define STEADY   0.10 /* deviation of the speed over the way, of its mean */
#define STANDING 0.02 /* share of the time */
#define SHORTEST 1e3  /* m */

static enum hobble_status refuse(struct hobble_faults *sink, const char *given, const char *allowed)
{
    struct hobble_fault f = {.status = HOBBLE_E_UNSUPPORTED};
    hobble_fault_text(f.key, "evidence");
    hobble_fault_text(f.given, given);
    hobble_fault_text(f.allowed, allowed);
    return hobble_faults_add(sink, &f);
}

/* The part since the air was gone, up to where the tyre ended. */
struct part {
    double way, way_speed, way_square; /* m, and by the speed and its square */
    double time, stood;                /* s */
};

static struct part part_of(const struct hobble_replay *r)
{
    struct part p = {.way = 0.0};
    const double last = r->tyre_ended ? r->ended_at : HUGE_VAL;
    for (int i = 1; i < r->points; i++) {
        const struct hobble_replay_point *at = &r->point[i];
        const double way = at->way - at[-1].way, time = at->time - at[-1].time;
        if (at->time <= r->flat_at || at[-1].time >= last)
            continue;
        p.way += way;
        p.way_speed += way * at->speed;
        p.way_square += way * at->speed * at->speed;
        p.time += time;
        p.stood += way > 0.0 ? 0.0 : time;
    }
    return p;
}

static enum hobble_status is_a_run(const struct hobble_replay *r, const struct part *p,
                                   struct hobble_faults *sink)
{
    if (isnan(r->flat_at))
        return refuse(sink, "", "a recorded pressure that falls below 70 kPa");
    if (p->way < SHORTEST)
        return refuse(sink, "", "at least 1 km below 70 kPa");
    const double mean = p->way_speed / p->way;
    const double square = fmax(p->way_square / p->way - mean * mean, 0.0);
    if (sqrt(square) > STEADY * mean || p->stood > STANDING * p->time)
        return refuse(sink, "",
                      "a steady run below 70 kPa: speed within 10 %, standing 2 % of the time");
    return HOBBLE_OK;
}

static enum hobble_status add_readings(const struct hobble_replay *r, struct hobble_evidence *item,
                                       struct hobble_faults *sink)
{
    double time[HOBBLE_RECORDING_STRETCHES], celsius[HOBBLE_RECORDING_STRETCHES];
    enum hobble_status status = HOBBLE_OK;
    for (int c = 0; c < HOBBLE_CHANNELS && status == HOBBLE_OK; c++) {
        size_t n = 0;
        for (int i = 0; i < r->points; i++)
            if (r->point[i].time > r->flat_at && !isnan(r->point[i].measured[c])) {
                time[n] = r->point[i].time - r->flat_at;
                celsius[n++] = r->point[i].measured[c] - 273.15;
            }
        if (n > 0)
            status = hobble_evidence_readings(item, (enum hobble_channel)c, time, celsius, n, sink);
    }
    return status;
}

enum hobble_status hobble_replay_evidence(const hobble_case *c, const struct hobble_replay *r,
                                          struct hobble_evidence *item, struct hobble_faults *sink)
{
    const struct part part = part_of(r);
    struct hobble_evidence made;
    enum hobble_status status = is_a_run(r, &part, sink);
    if (status != HOBBLE_OK)
        return status;
    hobble_evidence_begin(HOBBLE_EVIDENCE_RUN, &made);
    hobble_fault_text(made.source, "a recorded drive");
    made.load_share = r->answer.load_share;
    made.speed = part.way_speed / part.way;
    made.ambient = r->answer.ambient;
    made.distance = (r->tyre_ended ? r->ended_way : r->way) - r->flat_way;
    made.of = HOBBLE_RUN_ANOTHER_UNIT;
    made.outcome = r->tyre_ended ? HOBBLE_RUN_ENDED : HOBBLE_RUN_SURVIVED;
    if (c->settings.row[HB_P_AGE].given)
        made.age = hb_setting_si(&c->settings, HB_P_AGE);
    status = add_readings(r, &made, sink);
    if (status == HOBBLE_OK)
        *item = made;
    return status;
}
