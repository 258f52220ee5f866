/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_solve.c - conditions solved: advice at each speed, and where tyres end. */
#include "study/policy.h"
#include "study/study.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#ifdef _OPENMP
#include <omp.h>
#endif

/* Conditions are shared among threads; one drive stays on one of them. */
static void run_alone(const struct hb_journey *journey, const struct hb_step_control *steps,
                      const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                      struct hb_record *record, int threads)
{
    (void)threads;
    hb_integrate_many(journey, steps, tyre, count, out, record);
}

/* ---- one condition --------------------------------------------------------------------------- */

static void fill_way(struct hb_ensemble *e, const struct hb_plan *plan,
                     const struct hobble_answer *a, struct hobble_policy_way *way)
{
    memset(way, 0, sizeof *way);
    way->go = a->verdict != HOBBLE_STOP;
    way->advised = (int)floor(a->advised_distance);
    way->worth = (int)floor(hb_ensemble_worth(e));
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        way->stops |= a->stop[i] << i;
    for (size_t i = 0; i < e->arrays.members; i++) {
        if (!hb_ensemble_counts(e, i))
            continue;
        const double steps = floor(hb_ensemble_remaining(e, plan, i) / HOBBLE_REACH_STEP);
        way->counted++;
        if (steps < HOBBLE_REACH_BINS)
            way->ended[(int)steps]++;
    }
}

/* The tyres of a study stay as they are; the question is the condition's. */
static enum hobble_status solve_one(const struct hobble_fleet *fleet,
                                    const struct hobble_policy_condition *condition,
                                    const hobble_case *tyre, struct hb_ensemble *e,
                                    struct hobble_policy_solved *out)
{
    double speed[HOBBLE_POLICY_SPEEDS];
    struct hb_settings s;
    struct hb_question q;
    struct hb_plan plan;
    struct hobble_answer a;
    enum hobble_status status = HOBBLE_OK;
    hobble_policy_speeds(fleet, speed);
    hb_policy_settings(fleet, condition, &s);
    e->settings = &s;
    e->question = &q;
    for (int i = 0; status == HOBBLE_OK && i < HOBBLE_POLICY_SPEEDS; i++) {
        s.row[HB_P_SPEED].value = hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, speed[i]);
        status = hb_question_make(&s, NULL, 0, &q, NULL);
        if (status == HOBBLE_OK) {
            hb_case_mark_flat(tyre, &q, &s);
            status = hb_advise_way(e, &plan, &a);
        }
        if (status == HOBBLE_OK)
            fill_way(e, &plan, &a, &out->way[i]);
    }
    if (status == HOBBLE_OK) {
        out->unseen = (int)floor(a.run_unseen);
        out->closure = (int)ceil(e->closure * 1e9);
    }
    return status;
}

/* ---- arrays ---------------------------------------------------------------------------------- */

/* A thread's own outcomes, and its own tyres, whose lives are changed to ask what they would do at
 * best; what the types did in their test all share. */
struct worker {
    struct hb_ensemble ensemble;
    enum hobble_status status;
};

static bool open_worker(const struct hb_study *study, struct worker *worker)
{
    struct hb_arrays *r = &worker->ensemble.arrays;
    worker->ensemble = study->ensemble;
    worker->ensemble.runner = (struct hb_runner){run_alone, 1};
    worker->status = HOBBLE_OK;
    r->tyre = calloc(r->members, sizeof *r->tyre);
    r->best = calloc(r->members, sizeof *r->best);
    r->outcome = calloc(r->members, sizeof *r->outcome);
    r->record = calloc(r->members * HB_ARRAY_LEGS, sizeof *r->record);
    r->sorted = calloc(r->members, sizeof *r->sorted);
    if (!r->tyre || !r->best || !r->outcome || !r->record || !r->sorted)
        return false;
    memcpy(r->tyre, study->ensemble.arrays.tyre, r->members * sizeof *r->tyre);
    memcpy(r->best, study->ensemble.arrays.best, r->members * sizeof *r->best);
    return true;
}

static void close_worker(struct worker *worker)
{
    free(worker->ensemble.arrays.tyre);
    free(worker->ensemble.arrays.best);
    free(worker->ensemble.arrays.outcome);
    free(worker->ensemble.arrays.record);
    free(worker->ensemble.arrays.sorted);
}

/* ---- a run of conditions with the same tyres ------------------------------------------------- */

struct work {
    const struct hobble_fleet *fleet;
    const struct hobble_policy_condition *condition;
    const hobble_case *tyre; /* of the conditions that are at hand */
    struct hobble_policy_solved *out;
    int threads;
    size_t done, all;
    hobble_progress *progress;
    void *context;
};

static bool same_tyres(const struct hobble_policy_condition *a,
                       const struct hobble_policy_condition *b)
{
    return a->variant == b->variant && a->vehicle == b->vehicle && a->axle == b->axle;
}

static void solve_shared(struct work *w, size_t from, size_t to, struct worker *worker, int workers)
{
    size_t done = 0;
#pragma omp parallel for schedule(dynamic) num_threads(workers)
    for (size_t i = from; i < to; i++) {
        int mine = 0;
#ifdef _OPENMP
        mine = omp_get_thread_num();
#endif
        struct worker *d = &worker[mine];
        d->ensemble.closure = 0.0;
        const enum hobble_status status =
            d->status == HOBBLE_OK
                ? solve_one(w->fleet, &w->condition[i], w->tyre, &d->ensemble, &w->out[i])
                : d->status;
        d->status = status;
        size_t now;
#pragma omp atomic capture
        now = ++done;
        if (mine == 0 && w->progress)
            w->progress(w->context, (double)(w->done + now) / (double)w->all);
    }
    (void)workers;
    w->done += done;
}

static enum hobble_status solve_run(struct work *w, size_t from, size_t to,
                                    const struct hb_study *study)
{
    enum hobble_status status = HOBBLE_OK;
    int workers = 1, open = 0;
#ifdef _OPENMP
    workers =
        w->threads > 0 && w->threads < omp_get_max_threads() ? w->threads : omp_get_max_threads();
#endif
    struct worker *worker = calloc((size_t)workers, sizeof *worker);
    while (worker && status == HOBBLE_OK && open < workers)
        status = open_worker(study, &worker[open++]) ? HOBBLE_OK : HOBBLE_E_MEMORY;
    if (!worker)
        status = HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK)
        solve_shared(w, from, to, worker, workers);
    for (int i = 0; i < open; i++) {
        status = status != HOBBLE_OK ? status : worker[i].status;
        close_worker(&worker[i]);
    }
    free(worker);
    return status;
}

/* A case of a condition. What is known of one tyre says nothing of another one in its place. */
static hobble_case *tyre_of(const struct hobble_fleet *fleet,
                            const struct hobble_policy_condition *condition)
{
    hobble_case *c = hobble_case_clone(fleet->vehicle[condition->vehicle].axle[condition->axle]);
    if (!c)
        return NULL;
    hb_policy_settings(fleet, condition, &c->settings);
    c->legs = 0;
    if (condition->variant == HOBBLE_VARIANT_EXTENDED)
        c->items = 0;
    return c;
}

enum hobble_status hobble_policy_solve(const struct hobble_fleet *fleet,
                                       const struct hobble_policy_condition *condition,
                                       size_t count, int threads, hobble_progress *progress,
                                       void *context, struct hobble_policy_solved *out,
                                       struct hobble_faults *sink)
{
    struct work w = {fleet, condition, NULL, out, threads, 0, count, progress, context};
    enum hobble_status status = HOBBLE_OK;
    for (size_t from = 0, to; status == HOBBLE_OK && from < count; from = to) {
        struct hb_study study;
        hobble_case *c = tyre_of(fleet, &condition[from]);
        if (!c)
            return HOBBLE_E_MEMORY;
        w.tyre = c;
        for (to = from + 1; to < count && same_tyres(&condition[from], &condition[to]);)
            to++;
        status = hb_study_open(c, threads, &study, sink);
        if (status == HOBBLE_OK)
            status = solve_run(&w, from, to, &study);
        hb_study_close(&study);
        hobble_case_free(c);
    }
    return status;
}
