/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/learn.h"

#include "advice/reweigh.h"
#include "study/quantile_by.h"

#include <math.h>
#include <stdlib.h>

#define LOAD_SURE  0.02                /* of an axle scale, as load_known = weighed */
#define SPEED_SURE 0.005               /* of a speed by satellite (assumed) */
#define HEAT_SURE  3.0                 /* K, of a sensor or a thermometer in use (assumed) */
#define AFTER      (15 * 60.0)         /* s into the drive */
#define ROAD_RUN   90e3                /* m */
#define SEEN_SOON  60.0                /* s unseen where the pressure is read */
#define LEAST_LEFT 1e3                 /* m: shorter is STOP all the same */
#define MOST_CLEAR 10.0                /* times the deflection: further off is all the same */
#define STREAMS    (UINT64_C(1) << 40) /* of the errors of readings */

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

/* Columns over the tyres, in the order of their readings. */
struct columns {
    double *reading, *of_tyre, *by, *advice;
};

/* Of tyres near the rim the more there are the lower is a low quantile of how clear of it they are.
 */
static enum hobble_status keep_clear(const struct hb_heard *heard, size_t n, double worth,
                                     double share, double factor, const struct columns *c)
{
    double least = HUGE_VAL;
    for (size_t i = 0; i < n; i++) {
        c->of_tyre[i] = fmin(heard[i].clear, MOST_CLEAR);
        least = fmin(least, c->of_tyre[i]);
    }
    if (least > factor)
        return HOBBLE_OK;
    const enum hobble_status status =
        hb_quantile_by(c->reading, c->of_tyre, n, worth, share, c->by);
    for (size_t i = 0; i < n && status == HOBBLE_OK; i++)
        if (c->by[i] <= factor)
            c->advice[i] = 0.0;
    return status;
}

static enum hobble_status advise(const struct hb_heard *heard, size_t n,
                                 const struct hb_bounds *bounds, const struct columns *c)
{
    for (size_t i = 0; i < n; i++) {
        c->reading[i] = heard[i].reading;
        c->of_tyre[i] = fmax(heard[i].left, LEAST_LEFT);
    }
    enum hobble_status status =
        hb_quantile_by(c->reading, c->of_tyre, n, bounds->worth, HB_LOW, c->by);
    for (size_t i = 0; i < n && status == HOBBLE_OK; i++)
        c->advice[i] = heard[i].reading > bounds->bar ? 0.0 : allowed(c->by[i], bounds->cap);
    if (status == HOBBLE_OK)
        status = keep_clear(heard, n, bounds->worth, HB_NEAR_RIM_SHARE, HB_NEAR_RIM_FACTOR, c);
    return status == HOBBLE_OK ? keep_clear(heard, n, bounds->worth, HB_RIM_SHARE, 1.0, c) : status;
}

enum hobble_status hb_learn_by(struct hb_heard *heard, size_t n, const struct hb_bounds *bounds,
                               struct hb_learnt *learnt)
{
    double *room = calloc(4 * n, sizeof *room);
    if (!room)
        return HOBBLE_E_MEMORY;
    const struct columns c = {room, &room[n], &room[2 * n], &room[3 * n]};
    qsort(heard, n, sizeof *heard, by_reading);
    const enum hobble_status status = advise(heard, n, bounds, &c);
    if (status == HOBBLE_OK)
        *learnt = (struct hb_learnt){0.0, 0.0};
    for (size_t i = 0; i < n && status == HOBBLE_OK; i++) {
        learnt->advice += c.advice[i] / (double)n;
        learnt->turns += ((c.advice[i] > 0.0) != (bounds->stands > 0.0)) / (double)n;
    }
    free(room);
    return status;
}

/* ---- the list -------------------------------------------------------------------------------- */

struct learner {
    struct hb_study *study;
    struct hb_plan plan;    /* the drive that the advice rests on */
    struct hb_heard *told;  /* of the members that count, in their order */
    struct hb_heard *heard; /* the same, sorted by a reading */
    size_t n;
    double cap;
    struct hobble_why *out;
};

/* What is to be expected comes before what is so at best. */
static bool comes_before(const struct hobble_learnt *a, const struct hobble_learnt *b)
{
    return a->at_best != b->at_best ? b->at_best : a->advice > b->advice;
}

static void note(struct learner *l, const struct hobble_learnt *learnt)
{
    struct hobble_learnt *at = l->out->learn;
    int i = l->out->learn_count++;
    for (; i > 0 && comes_before(learnt, &at[i - 1]); i--)
        at[i] = at[i - 1];
    at[i] = *learnt;
}

static void note_at_best(struct learner *l, enum hobble_learn what, double advice)
{
    note(l, &(struct hobble_learnt){what, advice, (double)NAN, true});
}

static struct hb_dice dice_of(const struct learner *l, enum hobble_learn what)
{
    const double seed = hb_setting_value(&l->study->settings, HB_P_SEED);
    return hb_dice_begin((uint64_t)seed, STREAMS + (uint64_t)what);
}

/* By the readings that were told. */
static enum hobble_status learn_by(struct learner *l, enum hobble_learn what, double bar)
{
    const struct hb_bounds bounds = {l->out->advice_now, l->cap, bar,
                                     hb_ensemble_worth(&l->study->ensemble)};
    struct hb_learnt learnt;
    for (size_t i = 0; i < l->n; i++)
        l->heard[i] = l->told[i];
    const enum hobble_status status = hb_learn_by(l->heard, l->n, &bounds, &learnt);
    if (status == HOBBLE_OK)
        note(l, &(struct hobble_learnt){what, learnt.advice, learnt.turns, false});
    return status;
}

/* A number of every tyre's, read with an error of a share of it or of so much. */
static void tell(struct learner *l, enum hobble_learn what,
                 double (*of)(const struct learner *, size_t), double share, double error)
{
    const struct hb_ensemble *e = &l->study->ensemble;
    struct hb_dice dice = dice_of(l, what);
    size_t n = 0;
    for (size_t i = 0; i < e->arrays.members; i++)
        if (hb_ensemble_counts(e, i)) {
            const double true_value = of(l, i);
            l->told[n++].reading =
                true_value + (share * true_value + error) * hb_dice_normal(&dice);
        }
}

static double load_of(const struct learner *l, size_t i)
{
    return l->study->ensemble.arrays.tyre[i].load_factor;
}

static double speed_of(const struct learner *l, size_t i)
{
    return l->study->ensemble.arrays.tyre[i].speed_factor;
}

static enum hobble_status read_errors(struct learner *l)
{
    const struct hb_ensemble *e = &l->study->ensemble;
    enum hobble_status status = HOBBLE_OK;
    if (hb_setting_word(e->settings, HB_P_LOAD_KNOWN) != HB_LOAD_WEIGHED) {
        tell(l, HOBBLE_LEARN_LOAD, load_of, LOAD_SURE, 0.0);
        status = learn_by(l, HOBBLE_LEARN_LOAD, e->question->index_load / e->question->load);
    }
    tell(l, HOBBLE_LEARN_SPEED, speed_of, SPEED_SURE, 0.0);
    return status == HOBBLE_OK ? learn_by(l, HOBBLE_LEARN_SPEED, HUGE_VAL) : status;
}

/* The last record of a journey of so many legs: of the drive from now. */
static const struct hb_record *last_of(const struct learner *l, size_t i)
{
    return &l->study->ensemble.arrays.record[(i + 1) * l->plan.journey.count - 1];
}

static double wall_of(const struct learner *l, size_t i)
{
    return last_of(l, i)->outer;
}

static double cavity_of(const struct learner *l, size_t i)
{
    return last_of(l, i)->cavity;
}

/* Sensors, a quarter of an hour into the drive: where advice goes so far. A tyre that did not reads
 * as it ended. */
static enum hobble_status read_heat(struct learner *l)
{
    struct hb_ensemble *e = &l->study->ensemble;
    const double so_far = AFTER * e->question->advised_speed;
    const struct hb_way way = {e->question->advised_speed, e->question->load, so_far, true,
                               HB_AS_DRIVEN};
    if (l->out->advice_now < so_far)
        return HOBBLE_OK;
    hb_plan_from_now(e->question, &way, &l->plan);
    hb_ensemble_drive(e, &l->plan);
    tell(l, HOBBLE_LEARN_WALL, wall_of, 0.0, HEAT_SURE);
    const enum hobble_status status = learn_by(l, HOBBLE_LEARN_WALL, HUGE_VAL);
    tell(l, HOBBLE_LEARN_CAVITY, cavity_of, 0.0, HEAT_SURE);
    return status == HOBBLE_OK ? learn_by(l, HOBBLE_LEARN_CAVITY, HUGE_VAL) : status;
}

static double distance_of(const struct learner *l, size_t i)
{
    return l->study->ensemble.arrays.outcome[i].distance;
}

/* Drives other tyres than the members: those in the arrays' test places. */
static enum hobble_status drive_others(struct learner *l, enum hobble_learn what,
                                       const struct hb_journey *journey)
{
    const struct hb_step_control steps = hb_step_control_default();
    const struct hb_ensemble *e = &l->study->ensemble;
    const struct hb_arrays *r = &e->arrays;
    e->runner.run(journey, &steps, r->test, r->members, r->outcome, NULL, e->runner.threads);
    tell(l, what, distance_of, 0.0, 0.0);
    return learn_by(l, what, HUGE_VAL);
}

/* Another new unit of each member's type: its life over the type's. */
static double other_unit(const struct learner *l, struct hb_dice *dice)
{
    return exp(hb_unit_scatter(l->study->ensemble.settings, 0.0) * hb_dice_normal(dice));
}

static enum hobble_status run_on_drum(struct learner *l)
{
    const struct hb_ensemble *e = &l->study->ensemble;
    struct hb_dice dice = dice_of(l, HOBBLE_LEARNS + HOBBLE_LEARN_DRUM_RUN);
    struct hb_drum_test test;
    hb_drum_test(&e->question->built.marking, 24.0 * 3600.0, &test);
    for (size_t i = 0; i < e->arrays.members; i++)
        e->arrays.test[i].life_per_metre /= other_unit(l, &dice);
    return drive_others(l, HOBBLE_LEARN_DRUM_RUN, &test.journey);
}

/* A new unit on the road, with load, speed and air as stated, and its own bends. */
static void build_others(struct learner *l, const double *type_life)
{
    const struct hb_ensemble *e = &l->study->ensemble;
    struct hb_dice dice = dice_of(l, HOBBLE_LEARNS + HOBBLE_LEARN_ROAD_RUN);
    const double bends = e->settings->row[HB_P_WALL_WORK].spread;
    for (size_t i = 0; i < e->arrays.members; i++) {
        struct hb_draw draw;
        struct hb_tyre *t = &e->arrays.test[i];
        hb_draw(e->settings, &l->study->cube[i * (size_t)hb_param_dimensions()], &draw);
        t->life_per_metre = type_life[i] / (other_unit(l, &dice) * draw.value[HB_P_LIFE_ROAD]);
        hb_put_on_drum(t, (double)INFINITY);
        hb_work_harder(t, fabs(bends * hb_dice_normal(&dice)));
    }
}

/* From cold, with the load weighed, at the advised speed; stopped where it has gone far enough. */
static enum hobble_status run_on_road(struct learner *l)
{
    const struct hb_question *q = l->study->ensemble.question;
    const struct hb_leg leg = {.speed = q->advised_speed,
                               .load = q->load,
                               .ambient = q->ambient,
                               .extent = ROAD_RUN,
                               .kind = HB_FOR_DISTANCE,
                               .set_pressure = true};
    const struct hb_journey journey = {
        {.running = false, .ambient = q->ambient}, 1, &leg, 1e9, 1e9};
    return drive_others(l, HOBBLE_LEARN_ROAD_RUN, &journey);
}

static enum hobble_status run_others(struct learner *l)
{
    const struct hb_arrays *r = &l->study->ensemble.arrays;
    double *type_life = calloc(r->members, sizeof *type_life);
    if (!type_life)
        return HOBBLE_E_MEMORY;
    for (size_t i = 0; i < r->members; i++)
        type_life[i] = r->test[i].life_per_metre;
    enum hobble_status status = run_on_drum(l);
    if (status == HOBBLE_OK) {
        build_others(l, type_life);
        status = run_on_road(l);
    }
    free(type_life);
    return status;
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
        note_at_best(l, HOBBLE_LEARN_UNSEEN, answer.advised_distance);
    hb_study_close(&study);
    hobble_case_free(other);
    return status;
}

/* Whether STOP is for what nothing in the list would lift: neither distance nor load. */
static bool stands(const struct hobble_answer *a)
{
    static const bool by_the_tyre[HOBBLE_STOP_COUNT] = {
        [HOBBLE_STOP_SHORT] = true, [HOBBLE_STOP_RIM] = true, [HOBBLE_STOP_NEAR_RIM] = true};
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        if (a->stop[i] && !by_the_tyre[i])
            return true;
    return false;
}

/* What every tyre that counts has left in the drive that the advice rests on. */
static void take_drive(struct learner *l)
{
    struct hb_ensemble *e = &l->study->ensemble;
    const struct hb_question *q = e->question;
    const struct hb_way way = {q->advised_speed, q->load, 0.0, true, hb_advise_past(e)};
    hb_plan_from_now(q, &way, &l->plan);
    hb_ensemble_drive(e, &l->plan);
    for (size_t i = 0; i < e->arrays.members; i++)
        if (hb_ensemble_counts(e, i)) {
            l->told[l->n] =
                (struct hb_heard){.left = hb_ensemble_remaining(e, &l->plan, i),
                                  .clear = e->arrays.tyre[i].deflection_max / last_of(l, i)->entry,
                                  .place = l->n};
            l->n++;
        }
}

static enum hobble_status make(struct learner *l, struct hobble_answer *a)
{
    struct hb_ensemble *e = &l->study->ensemble;
    const enum hobble_status status = hb_advise_way(e, NULL, a);
    if (status != HOBBLE_OK)
        return status;
    l->out->advice_now = a->advised_distance;
    l->out->counted = a->counted;
    l->out->stop_stands = stands(a);
    l->cap = fmax(a->cap - a->run_seen - a->run_unseen, 0.0);
    l->told = calloc(e->arrays.members, sizeof *l->told);
    l->heard = calloc(e->arrays.members, sizeof *l->heard);
    if (!l->told || !l->heard)
        return HOBBLE_E_MEMORY;
    take_drive(l);
    return HOBBLE_OK;
}

static enum hobble_status ask_all(const hobble_case *c, int threads, struct learner *l,
                                  const struct hobble_answer *a, struct hobble_faults *sink)
{
    enum hobble_status status = read_errors(l);
    if (!a->all_stated)
        note_at_best(l, HOBBLE_LEARN_PAST, a->if_vouched);
    if (status == HOBBLE_OK && a->unseen_assumed)
        status = read_pressure(c, threads, l, sink);
    if (status == HOBBLE_OK)
        status = read_heat(l);
    if (status == HOBBLE_OK && hb_has_drum_test(l->study->question.built.construction))
        status = run_others(l);
    return status;
}

enum hobble_status hb_learn(const hobble_case *c, int threads, struct hb_study *study,
                            struct hobble_why *out, struct hobble_faults *sink)
{
    struct hobble_answer a;
    struct learner l = {.study = study, .out = out};
    enum hobble_status status = make(&l, &a);
    if (status == HOBBLE_OK && !out->stop_stands)
        status = ask_all(c, threads, &l, &a, sink);
    free(l.told);
    free(l.heard);
    return status;
}
