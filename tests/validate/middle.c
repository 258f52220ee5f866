/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "validate/middle.h"

#include "solve/reference.h"

#include <stdio.h>
#include <stdlib.h>

static void need(enum hobble_status status, const char *what)
{
    if (status == HOBBLE_OK)
        return;
    (void)fprintf(stderr, "validate: %s: %s\n", what, hobble_status_text(status));
    exit(EXIT_FAILURE);
}

void middle_make(struct middle *m, const char *marking, int construction)
{
    struct hb_draw draw;
    hb_settings_default(&m->settings);
    m->settings.row[HB_P_CONSTRUCTION].value = construction;
    need(hobble_marking_parse(marking, &m->marking, NULL), marking);
    need(hb_calibrate(&m->settings, &m->marking, &m->life), marking);
    hb_draw(&m->settings, NULL, &draw);
    hb_build(&m->settings, &m->marking, &draw, &m->life, &m->tyre);
}

double middle_load(const struct middle *m, double share)
{
    return share * hb_index_load(&m->marking);
}

struct hb_leg middle_leg(double kmh, double load, double ambient_c, double pressure)
{
    return (struct hb_leg){.speed = kmh / 3.6,
                           .load = load,
                           .ambient = ambient_c + HB_CELSIUS,
                           .kind = HB_UNTIL_END,
                           .set_pressure = true,
                           .pressure = pressure};
}

/* tread: its temperature goes there, K, unless NULL. */
static struct hb_record look(const struct hb_tyre *tyre, const struct hb_leg *leg, bool running,
                             double *tread)
{
    const struct hb_problem problem = {tyre, leg, HB_CELLS};
    const struct hb_start start = {running, leg->speed, leg->load, leg->ambient, leg->pressure};
    double y[HB_CELLS + HB_Y_EXTRA];
    struct hb_record record = {0};
    hb_problem_start(&problem, &start, y);
    hb_problem_record(&problem, y, &record);
    if (tread)
        *tread = y[HB_CELLS + HB_Y_TREAD];
    return record;
}

struct hb_record middle_steady(const struct hb_tyre *tyre, double kmh, double load, double pressure,
                               double ambient)
{
    const struct hb_leg leg = middle_leg(kmh, load, ambient, pressure);
    return look(tyre, &leg, true, NULL);
}

double middle_tread(const struct hb_tyre *tyre, double kmh, double load, double pressure,
                    double ambient)
{
    const struct hb_leg leg = middle_leg(kmh, load, ambient, pressure);
    double tread;
    (void)look(tyre, &leg, true, &tread);
    return tread;
}

double middle_deflection(const struct hb_tyre *tyre, double load, double pressure)
{
    const struct hb_leg leg = middle_leg(1.0, load, 25.0, pressure);
    return look(tyre, &leg, false, NULL).deflection;
}

struct hb_outcome middle_run(const struct hb_tyre *tyre, struct hb_start start,
                             const struct hb_leg *leg, size_t legs, struct hb_record *record)
{
    /* docs/model.md: nothing is followed beyond 2 000 km or 48 h */
    const struct hb_journey journey = {start, legs, leg, 2000e3, 172800.0};
    const struct hb_reference_options options = hb_reference_default();
    struct hb_outcome out;
    need(hb_reference_run(&journey, tyre, &options, &out, record), "reference solver");
    return out;
}
