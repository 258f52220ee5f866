/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/journey.h"

static bool within(double value, double least, double most)
{
    return value >= least && value <= most; /* false for NAN */
}

static bool leg_check(const struct hb_leg *leg, bool last)
{
    if (!within(leg->speed, 0.0, 100.0) || !within(leg->load, 100.0, 50e3) ||
        !within(leg->ambient, 200.0, 400.0))
        return false;
    if (leg->set_pressure && !within(leg->pressure, 0.0, 1e6))
        return false;
    if (!within(leg->leak_rate, 0.0, 10.0) || !within(leg->hole, 0.0, 10.0))
        return false;
    if (leg->kind == HB_UNTIL_END)
        return last && leg->speed > 0.0;
    return within(leg->extent, 1e-3, 1e10) && (leg->kind != HB_FOR_DISTANCE || leg->speed > 0.0);
}

bool hb_journey_check(const struct hb_journey *journey)
{
    const struct hb_start *s = &journey->start;
    if (journey->count == 0 || journey->leg[0].goes_on || !within(s->ambient, 200.0, 400.0) ||
        !within(s->pressure, 0.0, 1e6))
        return false;
    if (s->running && (!within(s->speed, 0.0, 100.0) || !within(s->load, 100.0, 50e3)))
        return false;
    if (!within(journey->horizon_distance, 1.0, 1e10) || !within(journey->horizon_time, 1.0, 1e10))
        return false;
    for (size_t i = 0; i < journey->count; i++)
        if (!leg_check(&journey->leg[i], i + 1 == journey->count))
            return false;
    return true;
}
