/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The reference: the problem of core/physics.h by an implicit method with error control and the
 * exact Jacobian, every event located by Brent's method on a step taken again from its start.
 * What a leg means is the same as in core/integrate.inc. */
#include "solve/reference.h"

#include "core/physics.h"
#include "core/vector.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_machine.h>
#include <gsl/gsl_odeiv2.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <string.h>

enum {
    UNKNOWNS_MAX = HB_CELLS_MAX + HB_Y_EXTRA,
    STEPS_MAX = 200000, /* in one leg; a run takes some hundred */
    ROOT_ITERATIONS = 100,
    LIMITS = 3
};

#define FIRST_STEP 0.5  /* s, after a change of conditions */
#define ROOT_WIDTH 1e-6 /* s */

static const double limits[LIMITS] = {353.15, 373.15, 393.15}; /* 80, 100, 120 degC */

/* What the library's own makers of a driver put together, held here: they do not check for lack
 * of memory everywhere. */
struct integrator {
    gsl_odeiv2_control control;
    gsl_odeiv2_driver driver;
};

struct run {
    const struct hb_journey *journey;
    struct hb_problem problem;
    gsl_odeiv2_system system;
    double allowed[UNKNOWNS_MAX]; /* error of each unknown in a step */
    struct integrator once, again;
    gsl_root_fsolver *root;
    double now[UNKNOWNS_MAX], before[UNKNOWNS_MAX];
    struct hb_record here;
    double slope; /* of the hottest place, K/s */
    double next;  /* step to try, s */
    double time, distance, peak, deepest, deflection_start, stored_start;
    double above[LIMITS];
    enum hb_end end;
};

struct hb_reference_options hb_reference_default(void)
{
    return (struct hb_reference_options){.cells = HB_CELLS, .tolerance = 1e-8};
}

static int rates(double time, const double y[], double f[], void *problem)
{
    (void)time;
    hb_problem_rates(problem, y, f);
    const int size = hb_problem_size(problem);
    for (int i = 0; i < size; i++)
        if (!isfinite(f[i]))
            return GSL_EBADFUNC;
    return GSL_SUCCESS;
}

static int jacobian(double time, const double y[], double *matrix, double by_time[], void *problem)
{
    (void)time;
    hb_problem_jacobian(problem, y, matrix);
    memset(by_time, 0, (size_t)hb_problem_size(problem) * sizeof *by_time);
    return GSL_SUCCESS;
}

/* ---- the integrator ------------------------------------------------------------------------- */

/* Error control: no unknown may be wrong by more than is allowed. The same rule for the next step
 * as in the library (GSL reference manual, "Adaptive step-size control"). */
static int adjust(void *allowed, size_t size, unsigned int order, const double y[],
                  const double error[], const double rate[], double *step)
{
    const double *most = allowed;
    double worst = 0.0;
    (void)y;
    (void)rate;
    for (size_t i = 0; i < size; i++)
        worst = hb_one_max(worst, fabs(error[i]) / most[i]);
    if (worst > 1.1) {
        *step *= hb_one_max(0.9 * pow(worst, -1.0 / order), 0.2);
        return GSL_ODEIV_HADJ_DEC;
    }
    if (worst >= 0.5)
        return GSL_ODEIV_HADJ_NIL;
    const double grown = worst > 0.0 ? 0.9 * pow(worst, -1.0 / (order + 1.0)) : 5.0;
    *step *= hb_one_min(hb_one_max(grown, 1.0), 5.0);
    return GSL_ODEIV_HADJ_INC;
}

static int allowed_error(void *allowed, const double y, const double rate, const double step,
                         const size_t i, double *error)
{
    (void)y;
    (void)rate;
    (void)step;
    *error = ((const double *)allowed)[i];
    return GSL_SUCCESS;
}

static const gsl_odeiv2_control_type control_type = {
    .name = "allowed", .hadjust = adjust, .errlevel = allowed_error};

/* Backward differentiation in Nordsieck form. Measured against GSL's Bulirsch-Stoer method with
 * the same Jacobian: two to four times faster, and nearer to what both tend to. */
static bool open_integrator(struct integrator *integrator, struct run *r)
{
    gsl_odeiv2_driver *d = &integrator->driver;
    integrator->control = (gsl_odeiv2_control){&control_type, r->allowed};
    *d = (gsl_odeiv2_driver){.sys = &r->system,
                             .s = gsl_odeiv2_step_alloc(gsl_odeiv2_step_msbdf, r->system.dimension),
                             .c = &integrator->control,
                             .e = gsl_odeiv2_evolve_alloc(r->system.dimension),
                             .h = FIRST_STEP,
                             .hmax = GSL_DBL_MAX,
                             .nmax = STEPS_MAX};
    return d->s && d->e && gsl_odeiv2_step_set_driver(d->s, d) == GSL_SUCCESS &&
           gsl_odeiv2_evolve_set_driver(d->e, d) == GSL_SUCCESS;
}

static void close_integrator(struct integrator *integrator)
{
    if (integrator->driver.e)
        gsl_odeiv2_evolve_free(integrator->driver.e);
    if (integrator->driver.s)
        gsl_odeiv2_step_free(integrator->driver.s);
}

static void release(struct run *r)
{
    if (r->root)
        gsl_root_fsolver_free(r->root);
    close_integrator(&r->again);
    close_integrator(&r->once);
}

/* The error allowed in a step is tolerance times these: kelvin, life, pascal, joule. */
static bool prepare(struct run *r, double tolerance)
{
    const int n = r->problem.cells;
    const size_t size = (size_t)hb_problem_size(&r->problem);
    double *allowed = r->allowed;
    for (int i = 0; i < n + HB_Y_LIFE; i++)
        allowed[i] = 100.0 * tolerance;
    allowed[n + HB_Y_LIFE] = 1.0 * tolerance;
    allowed[n + HB_Y_PRESSURE] = 1e5 * tolerance;
    for (int i = HB_Y_MADE; i <= HB_Y_ROAD; i++)
        allowed[n + i] = 1e6 * tolerance;
    r->system = (gsl_odeiv2_system){rates, jacobian, size, &r->problem};
    r->root = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    return open_integrator(&r->once, r) && open_integrator(&r->again, r) && r->root;
}

/* ---- one step taken again, in part ----------------------------------------------------------- */

/* What is looked for in a step: an end event, the hottest place passing a temperature, or its
 * temperature no longer rising. */
enum { PASSES_LIMIT = HB_EVENTS, STOPS_RISING };
struct search {
    struct run *run;
    int what;       /* an event 0..HB_EVENTS-1, or one of these */
    double limit;   /* K, for PASSES_LIMIT */
    double hottest; /* K, at the last place looked at */
    bool failed;
};

/* Rate of the hottest place: of a cell's middle, or of the inner face. */
static double hottest_slope(const struct hb_problem *problem, const double *y,
                            const struct hb_record *record)
{
    double f[UNKNOWNS_MAX];
    hb_problem_rates(problem, y, f);
    int most = 0;
    for (int i = 1; i < problem->cells; i++)
        if (y[i] > y[most])
            most = i;
    if (y[most] >= record->inner)
        return f[most];
    const int cavity = problem->cells + HB_Y_CAVITY;
    const double weight =
        fabs(y[0] - y[cavity]) > 0.0 ? (record->inner - y[cavity]) / (y[0] - y[cavity]) : 1.0;
    return f[cavity] + weight * (f[0] - f[cavity]);
}

/* State at a part (s) of the last step, from its start. */
static bool retake(struct run *r, double part, double *y)
{
    double time = 0.0;
    memcpy(y, r->before, sizeof r->before);
    if (part <= 0.0)
        return true;
    return gsl_odeiv2_driver_reset_hstart(&r->again.driver, FIRST_STEP) == GSL_SUCCESS &&
           gsl_odeiv2_driver_apply(&r->again.driver, &time, part, y) == GSL_SUCCESS;
}

static double miss(double part, void *context)
{
    struct search *search = context;
    const struct hb_problem *problem = &search->run->problem;
    double y[UNKNOWNS_MAX], event[HB_EVENTS];
    struct hb_record record;
    if (!retake(search->run, part, y)) {
        search->failed = true;
        return 0.0;
    }
    if (search->what < HB_EVENTS) {
        hb_problem_events(problem, y, event);
        return event[search->what];
    }
    hb_problem_record(problem, y, &record);
    search->hottest = record.hottest;
    return search->what == PASSES_LIMIT ? record.hottest - search->limit
                                        : hottest_slope(problem, y, &record);
}

/* Part (s) of a step of this length at which what is looked for changes its sign. */
static enum hobble_status locate(struct search *search, double length, double *part)
{
    gsl_root_fsolver *solver = search->run->root;
    gsl_function function = {miss, search};
    const double first = miss(0.0, search), last = miss(length, search);
    *part = length;
    if (search->failed)
        return HOBBLE_E_NOT_CONVERGED;
    if (first * last > 0.0) /* a hair's breadth apart from the step itself */
        return HOBBLE_OK;
    if (gsl_root_fsolver_set(solver, &function, 0.0, length) != GSL_SUCCESS)
        return HOBBLE_E_NOT_CONVERGED;
    for (int i = 0; i < ROOT_ITERATIONS; i++) {
        if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS || search->failed)
            return HOBBLE_E_NOT_CONVERGED;
        *part = gsl_root_fsolver_root(solver);
        if (gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                   gsl_root_fsolver_x_upper(solver), ROOT_WIDTH,
                                   0.0) == GSL_SUCCESS)
            return HOBBLE_OK;
    }
    return HOBBLE_E_NOT_CONVERGED;
}

/* ---- what is kept of a step ------------------------------------------------------------------ */

static void look(struct run *r)
{
    hb_problem_record(&r->problem, r->now, &r->here);
    r->slope = hottest_slope(&r->problem, r->now, &r->here);
    r->peak = hb_one_max(r->peak, r->here.hottest);
    r->deepest = hb_one_max(r->deepest, r->here.deflection);
}

/* A peak inside a step: where the hottest place stops rising. */
static enum hobble_status look_between(struct run *r, double slope_before, double length)
{
    if (slope_before <= 0.0 || r->slope >= 0.0)
        return HOBBLE_OK;
    struct search search = {.run = r, .what = STOPS_RISING};
    double part;
    const enum hobble_status status = locate(&search, length, &part);
    if (status == HOBBLE_OK)
        r->peak = hb_one_max(r->peak, search.hottest);
    return status;
}

/* Adds up the seconds of a step spent above each temperature. */
static enum hobble_status add_above(struct run *r, double from, double length)
{
    const double to = r->here.hottest;
    for (int i = 0; i < LIMITS; i++) {
        double part = length;
        if ((from - limits[i]) * (to - limits[i]) < 0.0) {
            struct search search = {.run = r, .what = PASSES_LIMIT, .limit = limits[i]};
            const enum hobble_status status = locate(&search, length, &part);
            if (status != HOBBLE_OK)
                return status;
        }
        if (from > limits[i])
            r->above[i] += part;
        else if (to > limits[i])
            r->above[i] += length - part;
    }
    return HOBBLE_OK;
}

/* If a limit was passed in this step, cuts the step back to where the first one was. */
static enum hobble_status cut_at_event(struct run *r, double *length)
{
    double event[HB_EVENTS], first = *length;
    hb_problem_events(&r->problem, r->now, event);
    for (int e = 0; e < HB_EVENTS; e++) {
        if (event[e] < 0.0)
            continue;
        struct search search = {.run = r, .what = e};
        double part;
        const enum hobble_status status = locate(&search, *length, &part);
        if (status != HOBBLE_OK)
            return status;
        if (r->end == HB_END_NONE || part < first) {
            r->end = (enum hb_end)(HB_END_LIFE + e);
            first = part;
        }
    }
    if (r->end == HB_END_NONE)
        return HOBBLE_OK;
    *length = first;
    if (!retake(r, first, r->now))
        return HOBBLE_E_NOT_CONVERGED;
    if (r->end == HB_END_LIFE)
        r->now[r->problem.cells + HB_Y_LIFE] = 1.0;
    return HOBBLE_OK;
}

static enum hobble_status keep_step(struct run *r, double length)
{
    const double from = r->here.hottest, slope = r->slope;
    enum hobble_status status = cut_at_event(r, &length);
    if (status != HOBBLE_OK)
        return status;
    look(r);
    r->time += length;
    r->distance += length * r->problem.leg->speed * r->problem.tyre->speed_factor;
    status = look_between(r, slope, length);
    return status == HOBBLE_OK ? add_above(r, from, length) : status;
}

/* ---- legs ------------------------------------------------------------------------------------ */

static enum hobble_status drive(struct run *r, double seconds)
{
    const gsl_odeiv2_driver *d = &r->once.driver;
    double passed = 0.0;
    for (int i = 0; passed < seconds && r->end == HB_END_NONE; i++) {
        memcpy(r->before, r->now, sizeof r->now);
        if (i == STEPS_MAX || gsl_odeiv2_evolve_apply(d->e, d->c, d->s, &r->system, &passed,
                                                      seconds, &r->next, r->now) != GSL_SUCCESS)
            return HOBBLE_E_NOT_CONVERGED;
        const enum hobble_status status = keep_step(r, d->e->last_step);
        if (status != HOBBLE_OK)
            return status;
    }
    return HOBBLE_OK;
}

/* Conditions change: the limits may be passed by that alone. */
static enum hobble_status enter(struct run *r, const struct hb_leg *leg)
{
    double event[HB_EVENTS];
    r->problem.leg = leg;
    if (leg->set_pressure)
        r->now[r->problem.cells + HB_Y_PRESSURE] = leg->pressure;
    look(r);
    hb_problem_events(&r->problem, r->now, event);
    for (int e = HB_EVENTS - 1; e >= 0; e--)
        if (event[e] >= 0.0)
            r->end = (enum hb_end)(HB_END_LIFE + e);
    r->next = FIRST_STEP;
    return gsl_odeiv2_driver_reset(&r->once.driver) == GSL_SUCCESS ? HOBBLE_OK
                                                                   : HOBBLE_E_NOT_CONVERGED;
}

/* Stated seconds that a leg lasts, after this stated time and way. */
static double leg_time(const struct hb_journey *j, const struct hb_leg *leg, double time,
                       double way)
{
    if (leg->kind == HB_FOR_TIME)
        return leg->extent;
    if (leg->kind == HB_FOR_DISTANCE)
        return leg->extent / leg->speed;
    const double left = j->horizon_time - time;
    const double reach = leg->speed > 0.0 ? (j->horizon_distance - way) / leg->speed : left;
    return hb_one_max(hb_one_min(left, reach), 0.0);
}

static enum hobble_status travel(struct run *r, struct hb_record *record)
{
    const struct hb_journey *j = r->journey;
    double time = 0.0, way = 0.0;
    for (size_t l = 0; l < j->count; l++) {
        const struct hb_leg *leg = &j->leg[l];
        const double seconds = leg_time(j, leg, time, way);
        enum hobble_status status = HOBBLE_OK;
        if (r->end == HB_END_NONE && (l == 0 || !leg->goes_on))
            status = enter(r, leg);
        const double entry = r->here.deflection;
        if (l == 0)
            r->deflection_start = entry;
        /* a stated distance takes longer when the real speed is lower */
        const double stretch =
            leg->kind == HB_FOR_DISTANCE ? 1.0 / r->problem.tyre->speed_factor : 1.0;
        if (status == HOBBLE_OK)
            status = drive(r, seconds * stretch);
        if (status != HOBBLE_OK)
            return status;
        time += seconds;
        way += seconds * leg->speed;
        if (record) {
            record[l] = r->here;
            record[l].time = r->time;
            record[l].distance = r->distance;
            record[l].peak = r->peak;
            record[l].entry = entry;
        }
    }
    if (r->end == HB_END_NONE && j->count > 0 && j->leg[j->count - 1].kind == HB_UNTIL_END)
        r->end = HB_END_HORIZON;
    return HOBBLE_OK;
}

static void finish(const struct run *r, struct hb_outcome *out)
{
    const double *ledger = r->now + r->problem.cells;
    *out = (struct hb_outcome){
        .end = r->end,
        .time = r->time,
        .distance = r->distance,
        .life = hb_one_min(ledger[HB_Y_LIFE], 1.0),
        .peak = r->peak,
        .deflection_start = r->deflection_start,
        .deflection_most = r->deepest,
        .made = ledger[HB_Y_MADE],
        .stored = hb_problem_stored(&r->problem, r->now) - r->stored_start,
        .to_air = ledger[HB_Y_AIR],
        .to_road = ledger[HB_Y_ROAD],
        .above_80 = r->above[0],
        .above_100 = r->above[1],
        .above_120 = r->above[2],
    };
}

enum hobble_status hb_reference_run(const struct hb_journey *journey, const struct hb_tyre *tyre,
                                    const struct hb_reference_options *options,
                                    struct hb_outcome *out, struct hb_record *record)
{
    const struct hb_leg parked = {.ambient = journey->start.ambient};
    struct run r = {.journey = journey,
                    .problem = {tyre, journey->count > 0 ? journey->leg : &parked, options->cells},
                    .end = HB_END_NONE};
    enum hobble_status status = HOBBLE_E_MEMORY;
    if (prepare(&r, options->tolerance)) {
        hb_problem_start(&r.problem, &journey->start, r.now);
        r.stored_start = hb_problem_stored(&r.problem, r.now);
        r.peak = r.now[0];
        status = travel(&r, record);
    }
    if (status == HOBBLE_OK)
        finish(&r, out);
    release(&r);
    return status;
}
