/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/learn.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>

#define LOAD_SURE  0.02        /* of an axle scale, as load_known = weighed */
#define SPEED_SURE 0.005       /* of a speed by satellite (assumed) */
#define HEAT_SURE  3.0         /* K, of a sensor or a thermometer in use (assumed) */
#define AFTER      (15 * 60.0) /* s into the drive */
#define ROAD_RUN   90e3        /* m */
#define SEEN_SOON  60.0        /* s unseen where the pressure is read */
enum { ALIKE = 100, STEPS_MOST = 60 };

static const struct {
    const char *word, *keys;
} list[] = {
#define LEARN_ROW(code, word, keys) {word, keys},
    HOBBLE_LEARN_LIST(LEARN_ROW)
#undef LEARN_ROW
};

const char *hobble_learn_word(enum hobble_learn what)
{
    return (unsigned)what < HOBBLE_LEARNS ? list[what].word : "unknown";
}

const char *hobble_learn_keys(enum hobble_learn what)
{
    return (unsigned)what < HOBBLE_LEARNS ? list[what].keys : "";
}

/* ---- from a reading to advice ---------------------------------------------------------------- */

/* What reads alike stays in its order, so that its other side is not sorted by it. */
static int by_reading(const void *a, const void *b)
{
    const struct hb_heard *x = a, *y = b;
    const int unlike = (x->reading > y->reading) - (x->reading < y->reading);
    return unlike != 0 ? unlike : (x->place > y->place) - (x->place < y->place);
}

/* What a low quantile of range allows: nothing where that is too short to be of help. */
static double allowed(double p5, double cap)
{
    const double way = fmin(p5, cap);
    return way < HB_LEAST_ADVICE ? 0.0 : way;
}

struct hb_learnt hb_learn_by(struct hb_heard *heard, size_t n, double stands, double cap,
                             double *room)
{
    const size_t steps = n / ALIKE < 1 ? 1 : n / ALIKE > STEPS_MOST ? STEPS_MOST : n / ALIKE;
    struct hb_learnt learnt = {0.0, 0.0};
    qsort(heard, n, sizeof *heard, by_reading);
    for (size_t i = 0; i < n; i++)
        room[i] = heard[i].left;
    for (size_t k = 0; k < steps; k++) {
        const size_t from = k * n / steps, to = (k + 1) * n / steps;
        const double share = (double)(to - from) / (double)n;
        const double advice = allowed(hb_quantile(&room[from], to - from, 0.05), cap);
        learnt.advice += share * advice;
        learnt.turns += (advice > 0.0) != (stands > 0.0) ? share : 0.0;
    }
    return learnt;
}

/* ---- the list -------------------------------------------------------------------------------- */

struct learner {
    struct hb_study *study;
    struct hb_plan plan;    /* the drive that the advice rests on */
    double *left;           /* of the members that count */
    double *reading, *room; /* the same, scratch */
    struct hb_heard *heard;
    size_t n;
    double cap;
    gsl_rng *rng;
    struct hobble_why *out;
};

static void note(struct learner *l, enum hobble_learn what, double advice, double turns, bool best)
{
    struct hobble_learnt *at = l->out->learn;
    int i = l->out->learn_count++;
    for (; i > 0 && at[i - 1].advice < advice; i--)
        at[i] = at[i - 1];
    at[i] = (struct hobble_learnt){what, advice, turns, best};
}

/* A reading of every member that counts, in the members' order. */
static void learn_by(struct learner *l, enum hobble_learn what)
{
    for (size_t i = 0; i < l->n; i++)
        l->heard[i] = (struct hb_heard){l->reading[i], l->left[i], i};
    const struct hb_learnt learnt =
        hb_learn_by(l->heard, l->n, l->out->advice_now, l->cap, l->room);
    note(l, what, learnt.advice, learnt.turns, false);
}

static void read_errors(struct learner *l)
{
    const struct hb_ensemble *e = &l->study->ensemble;
    const bool weighed = hb_setting_word(e->settings, HB_P_LOAD_KNOWN) == HB_LOAD_WEIGHED;
    size_t n = 0;
    for (size_t i = 0; i < e->arrays.members; i++)
        if (hb_ensemble_counts(e, i))
            l->reading[n++] =
                e->arrays.tyre[i].load_factor * (1.0 + gsl_ran_gaussian(l->rng, LOAD_SURE));
    if (!weighed)
        learn_by(l, HOBBLE_LEARN_LOAD);
    n = 0;
    for (size_t i = 0; i < e->arrays.members; i++)
        if (hb_ensemble_counts(e, i))
            l->reading[n++] =
                e->arrays.tyre[i].speed_factor * (1.0 + gsl_ran_gaussian(l->rng, SPEED_SURE));
    learn_by(l, HOBBLE_LEARN_SPEED);
}

/* Sensors, a quarter of an hour into the drive. */
static void read_heat(struct learner *l)
{
    static const struct {
        enum hobble_learn what;
        size_t at;
    } sensor[] = {{HOBBLE_LEARN_WALL, offsetof(struct hb_record, outer)},
                  {HOBBLE_LEARN_CAVITY, offsetof(struct hb_record, cavity)}};
    struct hb_ensemble *e = &l->study->ensemble;
    struct hb_plan plan;
    const struct hb_way way = {e->question->advised_speed, e->question->load,
                               AFTER * e->question->advised_speed, true, HB_AS_DRIVEN};
    hb_plan_from_now(e->question, &way, &plan);
    hb_ensemble_drive(e, &plan);
    const size_t legs = plan.journey.count;
    for (size_t k = 0; k < sizeof sensor / sizeof *sensor; k++) {
        size_t n = 0;
        for (size_t i = 0; i < e->arrays.members; i++)
            if (hb_ensemble_counts(e, i)) {
                const char *last = (const char *)&e->arrays.record[i * legs + legs - 1];
                l->reading[n++] = *(const double *)(const void *)(last + sensor[k].at) +
                                  gsl_ran_gaussian(l->rng, HEAT_SURE);
            }
        learn_by(l, sensor[k].what);
    }
}

/* Another new unit of each member's type: its life over the type's. */
static double other_unit(const struct learner *l)
{
    const struct hb_settings *s = l->study->ensemble.settings;
    return exp(gsl_ran_gaussian(l->rng, hb_unit_scatter(s, 0.0)));
}

/* Drives other tyres than the members: those in the arrays' test places. */
static void drive_others(struct learner *l, const struct hb_journey *journey)
{
    const struct hb_step_control steps = hb_step_control_default();
    const struct hb_ensemble *e = &l->study->ensemble;
    const struct hb_arrays *r = &e->arrays;
    size_t n = 0;
    e->runner.run(journey, &steps, r->test, r->members, r->outcome, NULL, e->runner.threads);
    for (size_t i = 0; i < r->members; i++)
        if (hb_ensemble_counts(e, i))
            l->reading[n++] = r->outcome[i].distance;
}

static void run_on_drum(struct learner *l)
{
    const struct hb_ensemble *e = &l->study->ensemble;
    struct hb_drum_test test;
    hb_drum_test(&e->question->built.marking, 24.0 * 3600.0, &test);
    for (size_t i = 0; i < e->arrays.members; i++)
        e->arrays.test[i].life_per_metre /= other_unit(l);
    drive_others(l, &test.journey);
    learn_by(l, HOBBLE_LEARN_DRUM_RUN);
}

/* From cold, with the load weighed, at the advised speed; stopped where it has gone far enough. */
static void run_on_road(struct learner *l, const double *type_life)
{
    const struct hb_ensemble *e = &l->study->ensemble;
    const struct hb_question *q = e->question;
    const struct hb_leg leg = {.speed = q->advised_speed,
                               .load = q->load,
                               .ambient = q->ambient,
                               .extent = ROAD_RUN,
                               .kind = HB_FOR_DISTANCE,
                               .set_pressure = true};
    const struct hb_journey journey = {
        {.running = false, .ambient = q->ambient}, 1, &leg, 1e9, 1e9};
    for (size_t i = 0; i < e->arrays.members; i++) {
        struct hb_draw draw;
        struct hb_tyre *t = &e->arrays.test[i];
        hb_draw(e->settings, &l->study->cube[i * (size_t)hb_param_dimensions()], &draw);
        *t = e->arrays.tyre[i];
        t->load_factor = t->speed_factor = 1.0;
        t->ambient_shift = 0.0;
        t->life_per_metre = type_life[i] / (other_unit(l) * draw.value[HB_P_LIFE_ROAD]);
    }
    drive_others(l, &journey);
    learn_by(l, HOBBLE_LEARN_ROAD_RUN);
}

static enum hobble_status run_others(struct learner *l)
{
    const struct hb_arrays *r = &l->study->ensemble.arrays;
    double *type_life = calloc(r->members, sizeof *type_life);
    if (!type_life)
        return HOBBLE_E_MEMORY;
    for (size_t i = 0; i < r->members; i++)
        type_life[i] = r->test[i].life_per_metre;
    run_on_drum(l);
    run_on_road(l, type_life);
    free(type_life);
    return HOBBLE_OK;
}

/* The warning had come at once. */
static enum hobble_status read_pressure(const hobble_case *c, int threads, struct learner *l,
                                        struct hobble_faults *sink)
{
    struct hobble_answer answer;
    hobble_case *other = hobble_case_clone(c);
    struct hb_study study = {.cube = NULL};
    enum hobble_status status = other ? HOBBLE_OK : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK) {
        other->settings.row[HB_P_UNSEEN].value = SEEN_SOON / 60.0;
        status = hb_study_open(other, threads, &study, sink);
    }
    if (status == HOBBLE_OK)
        status = hb_advise_way(&study.ensemble, NULL, &answer);
    if (status == HOBBLE_OK)
        note(l, HOBBLE_LEARN_UNSEEN, answer.advised_distance, (double)NAN, true);
    hb_study_close(&study);
    hobble_case_free(other);
    return status;
}

/* Whether something stands in the way that is no matter of distance. */
static bool stands(const struct hobble_answer *a)
{
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        if (a->stop[i] && i != HOBBLE_STOP_SHORT)
            return true;
    return false;
}

static enum hobble_status make(struct learner *l, struct hb_study *study, struct hobble_answer *a)
{
    const struct hb_arrays *r = &study->ensemble.arrays;
    const enum hobble_status status = hb_advise_way(&study->ensemble, NULL, a);
    if (status != HOBBLE_OK)
        return status;
    l->out->advice_now = a->advised_distance;
    l->out->stop_stands = stands(a);
    l->cap = fmax(a->cap - a->run_seen - a->run_unseen, 0.0);
    l->left = calloc(r->members, sizeof *l->left);
    l->reading = calloc(r->members, sizeof *l->reading);
    l->room = calloc(r->members, sizeof *l->room);
    l->heard = calloc(r->members, sizeof *l->heard);
    l->rng = gsl_rng_alloc(gsl_rng_mt19937);
    if (!l->left || !l->reading || !l->room || !l->heard || !l->rng)
        return HOBBLE_E_MEMORY;
    gsl_rng_set(l->rng, (unsigned long)hb_setting_value(&study->settings, HB_P_SEED));
    const struct hb_way way = {study->question.advised_speed, study->question.load, 0.0, true,
                               hb_advise_past(&study->ensemble)};
    hb_plan_from_now(&study->question, &way, &l->plan);
    hb_ensemble_drive(&study->ensemble, &l->plan);
    for (size_t i = 0; i < r->members; i++)
        if (hb_ensemble_counts(&study->ensemble, i))
            l->left[l->n++] = hb_ensemble_remaining(&study->ensemble, &l->plan, i);
    return HOBBLE_OK;
}

enum hobble_status hb_learn(const hobble_case *c, int threads, struct hb_study *study,
                            struct hobble_why *out, struct hobble_faults *sink)
{
    struct hobble_answer a;
    struct learner l = {.study = study, .out = out};
    enum hobble_status status = make(&l, study, &a);
    if (status == HOBBLE_OK && !out->stop_stands) {
        read_errors(&l);
        if (!a.all_stated)
            note(&l, HOBBLE_LEARN_PAST, a.if_vouched, (double)NAN, true);
        if (a.unseen_assumed)
            status = read_pressure(c, threads, &l, sink);
        read_heat(&l);
        if (status == HOBBLE_OK && hb_has_drum_test(study->question.built.construction))
            status = run_others(&l);
    }
    free(l.left);
    free(l.reading);
    free(l.room);
    free(l.heard);
    if (l.rng)
        gsl_rng_free(l.rng);
    return status;
}
