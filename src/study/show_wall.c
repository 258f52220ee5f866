/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The middle tyre's wall by place and time: the reference equations on a fine grid, stopped where
 * the reference solver found the end. */
#include "core/physics.h"
#include "solve/reference.h"
#include "study/study.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <string.h>

enum { CELLS = HOBBLE_WALL_PLACES - 2, UNKNOWNS = CELLS + HB_Y_EXTRA };
#define TOLERANCE 1e-7
#define HORIZON   400e3 /* m: a picture of more than that shows nothing more */

static int rates(double time, const double y[], double f[], void *problem)
{
    (void)time;
    hb_problem_rates(problem, y, f);
    return GSL_SUCCESS;
}

static int jacobian(double time, const double y[], double *matrix, double by_time[], void *problem)
{
    (void)time;
    hb_problem_jacobian(problem, y, matrix);
    memset(by_time, 0, UNKNOWNS * sizeof *by_time);
    return GSL_SUCCESS;
}

/* The tyre, its way, and the integrator. */
struct scene {
    struct hb_settings settings;
    struct hb_question question;
    struct hb_tyre tyre;
    struct hb_plan plan;
    struct hb_problem problem;
    gsl_odeiv2_driver *driver;
    double y[UNKNOWNS];
    double time, way; /* since the loss of pressure */
};

/* The middle tyre of the sample that evidence leaves. */
static enum hobble_status take_in(const hobble_case *c, struct hb_tyre *tyre,
                                  struct hobble_faults *sink)
{
    struct hb_study study;
    enum hobble_status status = hb_study_open(c, 0, &study, sink);
    if (status == HOBBLE_OK)
        status = hb_case_agrees(c, study.ensemble.taken.against, sink);
    if (status == HOBBLE_OK)
        status = hb_ensemble_middle(&study.ensemble, tyre);
    hb_study_close(&study);
    return status;
}

static enum hobble_status set_scene(const hobble_case *c, struct scene *s,
                                    struct hobble_faults *sink)
{
    s->settings = c->settings;
    enum hobble_status status = hb_question_make(&s->settings, c->leg, c->legs, &s->question, sink);
    if (status != HOBBLE_OK)
        return status;
    s->settings.row[HB_P_CONSTRUCTION].value = s->question.built.construction;
    status = c->items > 0 ? take_in(c, &s->tyre, sink)
                          : hb_unit_middle(&s->settings, &s->question.built.marking,
                                           &s->question.unit, &s->tyre);
    if (status != HOBBLE_OK)
        return status;
    hb_plan_advised(&s->question, 0.0, &s->plan);
    s->plan.journey.leg = s->plan.leg;
    s->plan.journey.horizon_distance = HORIZON;
    s->problem = (struct hb_problem){&s->tyre, s->plan.leg, CELLS};
    return HOBBLE_OK;
}

static void note(struct scene *s, int i, struct hobble_wall *out)
{
    struct hb_record record;
    hb_problem_record(&s->problem, s->y, &record);
    out->time[i] = s->time;
    out->way[i] = s->way;
    out->kelvin[i][0] = record.inner;
    for (int k = 0; k < CELLS; k++)
        out->kelvin[i][k + 1] = s->y[k];
    /* the outer face: the line through the last two cells, half a cell on */
    out->kelvin[i][CELLS + 1] = s->y[CELLS - 1] + 0.5 * (s->y[CELLS - 1] - s->y[CELLS - 2]);
}

/* Seconds that a leg lasts for this tyre, at most left. */
static double leg_seconds(const struct scene *s, const struct hb_leg *leg, double left)
{
    double seconds = left;
    if (leg->kind == HB_FOR_TIME)
        seconds = leg->extent;
    else if (leg->kind == HB_FOR_DISTANCE)
        seconds = leg->extent / (leg->speed * s->tyre.speed_factor);
    return fmin(seconds, left);
}

/* Drives on to a time within a leg. */
static enum hobble_status drive_to(struct scene *s, double time)
{
    const double seconds = time - s->time;
    double passed = 0.0;
    if (seconds <= 0.0)
        return HOBBLE_OK;
    if (gsl_odeiv2_driver_reset(s->driver) != GSL_SUCCESS ||
        gsl_odeiv2_driver_reset_hstart(s->driver, fmin(0.01, seconds)) != GSL_SUCCESS ||
        gsl_odeiv2_driver_apply(s->driver, &passed, seconds, s->y) != GSL_SUCCESS)
        return HOBBLE_E_NOT_CONVERGED;
    s->way += seconds * s->problem.leg->speed * s->tyre.speed_factor;
    s->time = time;
    return HOBBLE_OK;
}

static enum hobble_status travel(struct scene *s, double until, struct hobble_wall *out)
{
    int next = 1;
    enum hobble_status status = HOBBLE_OK;
    note(s, 0, out);
    for (size_t l = 0; l < s->plan.journey.count && status == HOBBLE_OK; l++) {
        const struct hb_leg *leg = &s->plan.leg[l];
        s->problem.leg = leg;
        if (leg->set_pressure)
            s->y[CELLS + HB_Y_PRESSURE] = leg->pressure;
        const double end = s->time + leg_seconds(s, leg, until - s->time);
        while (next < HOBBLE_WALL_TIMES && status == HOBBLE_OK) {
            const double time = until * next / (HOBBLE_WALL_TIMES - 1);
            if (time > end * (1.0 + 1e-12))
                break;
            status = drive_to(s, time);
            note(s, next++, out);
        }
        if (status == HOBBLE_OK)
            status = drive_to(s, end);
    }
    return status == HOBBLE_OK && next < HOBBLE_WALL_TIMES ? HOBBLE_E_INTERNAL : status;
}

static enum hobble_status integrate(struct scene *s, struct hobble_wall *out)
{
    const struct hb_reference_options options = {.cells = CELLS, .tolerance = TOLERANCE};
    struct hb_outcome outcome;
    enum hobble_status status =
        hb_reference_run(&s->plan.journey, &s->tyre, &options, &outcome, NULL);
    if (status != HOBBLE_OK)
        return status;
    out->end = (enum hobble_end)outcome.end;
    gsl_odeiv2_system system = {rates, jacobian, UNKNOWNS, &s->problem};
    s->driver =
        gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_bsimp, 0.01, TOLERANCE, TOLERANCE);
    if (!s->driver)
        return HOBBLE_E_MEMORY;
    hb_problem_start(&s->problem, &s->plan.journey.start, s->y);
    /* a rim that carries at once: a second shows as much as can be shown */
    status = travel(s, fmax(outcome.time, 1.0), out);
    gsl_odeiv2_driver_free(s->driver);
    return status;
}

enum hobble_status hobble_wall_make(const hobble_case *c, struct hobble_wall *out,
                                    struct hobble_faults *sink)
{
    struct scene s = {.time = 0.0};
    struct hobble_wall wall = {.end = HOBBLE_END_NONE};
    gsl_set_error_handler_off();
    enum hobble_status status = set_scene(c, &s, sink);
    if (status != HOBBLE_OK)
        return status;
    wall.thickness = s.tyre.wall_thickness;
    wall.limit = s.tyre.wall_limit;
    wall.depth[CELLS + 1] = wall.thickness;
    for (int k = 0; k < CELLS; k++)
        wall.depth[k + 1] = wall.thickness * (k + 0.5) / CELLS;
    wall.speed = s.question.advised_speed;
    wall.load = s.question.load;
    wall.ambient = s.question.ambient;
    wall.marking = s.question.built.marking;
    wall.example = s.question.built.example;
    wall.evidence_items = (int)c->items;
    status = integrate(&s, &wall);
    if (status == HOBBLE_OK)
        *out = wall;
    return status;
}
