/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/const.h"
#include "study/study.h"
#include "study/subset.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdlib.h>

#define BEYOND 4.0 /* a rule's drive goes on to so many times its distance */
enum { SCAN = 6, ITERATIONS_MAX = 60 };

/* A rule at conditions that are moved one at a time. */
struct field {
    struct hb_subset subset;
    struct hb_log log;
    struct hb_question question;
    double speed, distance, closure;
    int threads;
    enum hobble_flip_axis axis; /* moved */
    double last_at, last;       /* the margin found last, on this axis */
};

/* Logarithm of the distance that the required share makes over the rule's. */
static double margin(double at, void *context)
{
    struct field *f = context;
    struct hb_question q = f->question;
    struct hb_plan plan;
    double speed = f->speed;
    if (at == f->last_at)
        return f->last;
    if (f->axis == HOBBLE_FLIP_SPEED)
        speed = at;
    else if (f->axis == HOBBLE_FLIP_LOAD)
        q.load = at;
    else if (f->axis == HOBBLE_FLIP_AMBIENT)
        q.ambient = at;
    hb_plan_beyond(&q, speed, f->distance, BEYOND, &plan);
    hb_subset_drive_shared(&f->subset, &plan, f->threads, &f->log);
    f->closure = fmax(f->closure, hb_subset_closure(&f->subset, &f->log));
    f->last_at = at;
    f->last = log(fmax(hb_subset_reach(&f->subset, &f->log), 1.0) / f->distance);
    return f->last;
}

/* ---- the share, and how well it is known ----------------------------------------------------- */

static void count_arrivals(const struct field *f, struct hobble_rule_answer *a)
{
    double made = 0.0;
    const double n = (double)f->subset.count;
    for (size_t i = 0; i < f->subset.count; i++)
        made += f->log.outcome[i].distance >= f->distance;
    a->counted = (int)f->subset.count;
    a->share = made / n;
    hb_share_limits(a->share, f->subset.worth, &a->share_low, &a->share_high);
}

/* ---- where it flips -------------------------------------------------------------------------- */

/* A root between two values of the moved condition with margins of unlike signs. */
static enum hobble_status find_root(struct field *f, double a, double b, double width, double *at)
{
    gsl_function function = {margin, f};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return HOBBLE_E_MEMORY;
    enum hobble_status status = HOBBLE_E_NOT_CONVERGED;
    int done = gsl_root_fsolver_set(solver, &function, fmin(a, b), fmax(a, b));
    for (int i = 0; i < ITERATIONS_MAX && done == GSL_SUCCESS; i++) {
        done = gsl_root_fsolver_iterate(solver);
        *at = gsl_root_fsolver_root(solver);
        const double low = gsl_root_fsolver_x_lower(solver);
        const double high = gsl_root_fsolver_x_upper(solver);
        if (done == GSL_SUCCESS &&
            (gsl_root_test_interval(low, high, width, 0.0) == GSL_SUCCESS ||
             gsl_root_test_residual(margin(*at, f), HOBBLE_FLIP_DISTANCE) == GSL_SUCCESS)) {
            status = HOBBLE_OK;
            break;
        }
    }
    gsl_root_fsolver_free(solver);
    return status;
}

/* Looks from these conditions to the limit for the first change of sign: ranges that rise and fall
 * along the way are not taken for granted. */
static enum hobble_status find_flip(struct field *f, double here, double width,
                                    struct hobble_flip *flip)
{
    double before = flip->from, was = here;
    for (int i = 1; i <= SCAN; i++) {
        const double next = flip->from + (flip->to - flip->from) * i / SCAN;
        const double is = margin(next, f);
        if ((is >= 0.0) != (was >= 0.0))
            return find_root(f, before, next, width, &flip->at);
        before = next;
        was = is;
    }
    flip->why_not = here >= 0.0
                        ? "It still holds at the limit of what the model was checked on."
                        : "It does not hold even at the limit of what the model was checked on.";
    return HOBBLE_OK;
}

/* From these conditions to the worse limit when the rule holds, else to the better one. */
static void set_range(const struct field *f, bool holds, struct hobble_flip *flip)
{
    static const enum hb_param_id row[HOBBLE_FLIPS] = {HB_P_SPEED, HB_P_LOAD_SHARE, HB_P_AMBIENT};
    const double from[HOBBLE_FLIPS] = {f->speed, f->question.load, f->question.ambient};
    double least, most;
    hb_checked_range(row[f->axis], &least, &most);
    const double limit = holds ? most : least;
    flip->from = from[f->axis];
    flip->to = f->axis == HOBBLE_FLIP_LOAD
                   ? limit * f->question.index_load
                   : hobble_unit_to_si(hobble_param_table(NULL)[row[f->axis]].unit, limit);
    flip->at = (double)NAN;
    const bool beyond = holds ? flip->to <= flip->from : flip->to >= flip->from;
    flip->why_not = beyond ? "These conditions are beyond what the model was checked on." : NULL;
}

/* A wheel that carries more than the index: the rule can hold from the index down. */
static enum hobble_status lift_overload(struct field *f, double here, struct hobble_flip *flip)
{
    if (here >= 0.0) {
        flip->at = f->question.index_load;
        return HOBBLE_OK;
    }
    const enum hobble_status status = find_flip(f, here, HOBBLE_FLIP_LOAD_TO, flip);
    flip->at = fmin(flip->at, f->question.index_load);
    if (flip->why_not) /* fmin takes the number */
        flip->at = (double)NAN;
    return status;
}

static enum hobble_status find_flips(struct field *f, double here, struct hobble_rule_answer *a)
{
    static const double width[HOBBLE_FLIPS] = {HOBBLE_FLIP_SPEED_TO, HOBBLE_FLIP_LOAD_TO,
                                               HOBBLE_FLIP_AMBIENT_TO};
    const bool overload = a->stop[HOBBLE_STOP_OVERLOAD];
    const bool too_few = a->needed > 1.0;
    bool never = too_few;
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        never = never || (a->stop[i] && i != HOBBLE_STOP_OVERLOAD);
    enum hobble_status status = HOBBLE_OK;
    for (int i = 0; i < HOBBLE_FLIPS && status == HOBBLE_OK; i++) {
        struct hobble_flip *flip = &a->flip[i];
        f->axis = (enum hobble_flip_axis)i;
        f->last_at = (double)NAN;
        set_range(f, here >= 0.0 && !overload, flip);
        if (never || (overload && f->axis != HOBBLE_FLIP_LOAD))
            flip->why_not = too_few
                                ? "Too few tyres are looked at to be sure (--members)."
                                : "Something else than this condition keeps the rule from holding.";
        if (!flip->why_not)
            status = overload ? lift_overload(f, here, flip) : find_flip(f, here, width[i], flip);
    }
    return status;
}

static enum hobble_status answer(struct hb_study *s, struct field *f, struct hobble_rule_answer *a)
{
    const struct hb_question *q = &s->question;
    a->load = q->load;
    a->load_share = q->load / q->index_load;
    a->ambient = q->ambient;
    a->marking = q->built.marking;
    a->example = q->built.example;
    a->example_load = q->example_load;
    a->vouched = q->all_stated;
    a->cap = q->cap.distance;
    a->tested = s->ensemble.tested;
    a->passed = hb_ensemble_passed(&s->ensemble);
    /* the flips are where the rule is no longer sure to hold */
    a->required = f->subset.required;
    a->needed = hb_needed_share(a->required, f->subset.worth);
    f->subset.required = fmin(a->needed, 1.0);
    const bool barred = hb_rule_barred(&s->ensemble, a->load_share, f->distance, a->stop);
    f->axis = HOBBLE_FLIPS; /* nothing is moved */
    f->last_at = (double)NAN;
    const double here = margin(0.0, f);
    count_arrivals(f, a);
    a->reach = hb_subset_reach(&f->subset, &f->log);
    a->reach_censored = a->reach > 0.9 * BEYOND * f->distance;
    a->holds = a->share >= a->needed && !barred;
    const enum hobble_status status = find_flips(f, here, a);
    a->energy_closure = fmax(f->closure, s->ensemble.closure);
    return status == HOBBLE_OK && a->energy_closure > 1e-3 ? HOBBLE_E_ENERGY : status;
}

/* A rule is asked for in so many words: what it may be is said in them too. */
static enum hobble_status check_rule(double speed, double distance, struct hobble_faults *sink)
{
    const bool good = speed >= 1.0 / 3.6 && speed <= HB_RULE_SPEED * (1.0 + 1e-12) &&
                      distance >= 1e3 && distance <= HB_RULE_DISTANCE * (1.0 + 1e-12);
    if (good)
        return HOBBLE_OK;
    struct hobble_fault f = {.status = HOBBLE_E_RANGE};
    hobble_fault_text(f.key, "rule");
    hobble_fault_text(f.allowed, "1 to 80 km at 1 to 80 km/h: advice never goes beyond");
    return hobble_faults_add(sink, &f);
}

enum hobble_status hobble_rule(const hobble_case *c, double speed, double distance, int threads,
                               struct hobble_rule_answer *out, struct hobble_faults *sink)
{
    struct hb_study s;
    struct hobble_rule_answer a = {.speed = speed, .distance = distance};
    enum hobble_status status = check_rule(speed, distance, sink);
    if (status != HOBBLE_OK)
        return status;
    status = hb_study_open(c, threads, &s, sink);
    struct field f = {
        .question = s.question, .speed = speed, .distance = distance, .threads = threads};
    if (status == HOBBLE_OK) {
        hb_subset_make(&s.ensemble, &f.subset);
        status = hb_log_make(&f.log, f.subset.count, 1) ? answer(&s, &f, &a) : HOBBLE_E_MEMORY;
    }
    if (status == HOBBLE_OK)
        *out = a;
    hb_log_free(&f.log);
    hb_study_close(&s);
    return status;
}
