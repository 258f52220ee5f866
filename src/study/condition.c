/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/condition.h"

#include "core/build.h"
#include "core/const.h"
#include "core/leak.h"
#include "study/study.h"

#include <math.h>
#include <stddef.h>

/* Room for the way itself and for one metre after it, which the plan needs as its last leg. */
#define AFTERWARDS 1.0

/* The order statistic at or above a share p: a high quantile is never flattered. Sorts values. */
static double cautious(double *values, size_t n, double p)
{
    hb_sort(values, n);
    return values[(size_t)ceil(p * (double)(n - 1))];
}

static double of_marks(struct hb_study *s, const struct hb_plan *plan, size_t offset, double p)
{
    const struct hb_room *r = &s->ensemble.room;
    for (size_t i = 0; i < r->members; i++) {
        const struct hb_mark *m = &r->mark[i * plan->journey.count + plan->now - 1];
        r->sorted[i] = *(const double *)(const void *)((const char *)m + offset);
    }
    return cautious(r->sorted, r->members, p);
}

static double of_outcomes(struct hb_study *s, size_t offset, double p)
{
    const struct hb_room *r = &s->ensemble.room;
    for (size_t i = 0; i < r->members; i++)
        r->sorted[i] = *(const double *)(const void *)((const char *)&r->outcome[i] + offset);
    return cautious(r->sorted, r->members, p);
}

static void read_rim(struct hb_study *s, struct hobble_drive *d)
{
    const struct hb_room *r = &s->ensemble.room;
    double on = 0.0;
    for (size_t i = 0; i < r->members; i++) {
        const double deepest = r->outcome[i].deflection_most / r->tyre[i].deflection_max;
        on += r->outcome[i].end == HB_END_RIM || deepest >= 1.0;
        r->sorted[i] = deepest;
    }
    d->rim_share = on / (double)r->members;
    d->deflection_p95 = cautious(r->sorted, r->members, 0.95);
}

static void read_drive(struct hb_study *s, const struct hb_plan *plan, struct hobble_drive *d)
{
#define MARK(field, p) of_marks(s, plan, offsetof(struct hb_mark, field), p)
#define OUTCOME(field) of_outcomes(s, offsetof(struct hb_outcome, field), 0.95)
    d->run = true;
    d->load = s->question.load;
    d->ambient = s->question.ambient;
    d->peak_p50 = MARK(peak, 0.5);
    d->peak_p95 = MARK(peak, 0.95);
    d->life_p50 = MARK(life, 0.5);
    d->life_p95 = MARK(life, 0.95);
    d->above_80 = OUTCOME(above_80);
    d->above_100 = OUTCOME(above_100);
    d->above_120 = OUTCOME(above_120);
    read_rim(s, d);
#undef MARK
#undef OUTCOME
}

/* ---- what the trip's rows say against the tyre --------------------------------------------- */

/* The worst that bench and trip together state. SI; NAN: not known, which is worse than any. */
struct worst {
    double pressure, distance, speed, ambient;
    double load; /* of a leg; 0: none said */
};

static double given_or(const hobble_case *c, enum hb_param_id row, double otherwise)
{
    const bool given = c->settings.row[row].given && hb_setting_known(&c->settings, row);
    return given ? hb_setting_si(&c->settings, row) : otherwise;
}

/* Unlike fmin and fmax: what is not known stays so, as a known value would be the milder one. */
static double lower(double known, double other)
{
    const bool decided = isnan(known) && other < HB_FLAT_PRESSURE; /* nothing is worse than flat */
    return decided || other < known ? other : known;
}

static double higher(double known, double other)
{
    return other > known ? other : known;
}

/* What legs say, and how far they and the rows of the trip reach. */
static void worst_of_way(const hobble_case *c, struct worst *w)
{
    struct hb_settings built_in;
    hb_settings_default(&built_in);
    /* a lower speed stated for the unseen part would shorten it: never below the built-in one */
    const double before = fmax(hb_setting_si(&c->settings, HB_P_SPEED_BEFORE),
                               hb_setting_si(&built_in, HB_P_SPEED_BEFORE));
    const double unseen = before * given_or(c, HB_P_UNSEEN, 0.0);
    double by_legs = 0.0;
    for (size_t i = 0; i < c->legs; i++) {
        const struct hobble_leg *l = &c->leg[i];
        by_legs += isnan(l->time) ? l->distance : l->speed * l->time;
        w->pressure = lower(w->pressure, l->pressure);
        w->speed = higher(w->speed, l->speed);
        w->ambient = higher(w->ambient, l->ambient);
        w->load = higher(w->load, l->load);
    }
    w->distance = higher(w->distance, unseen + fmax(given_or(c, HB_P_RUN, 0.0), by_legs));
}

/* Time (s) under load, at the least speed that was stated of any part; HUGE_VAL when no speed is
 * known. A lower bound of what is left out, such as stops nobody stated. */
static double time_carried(const hobble_case *c, const struct worst *w)
{
    double slowest =
        fmin(hb_setting_si(&c->settings, HB_P_LOW_SPEED), given_or(c, HB_P_RUN_SPEED, HUGE_VAL));
    double timed = given_or(c, HB_P_REST, 0.0) + given_or(c, HB_P_UNSEEN, 0.0);
    for (size_t i = 0; i < c->legs; i++) {
        timed += isnan(c->leg[i].time) ? 0.0 : c->leg[i].time;
        slowest = c->leg[i].speed > 0.0 ? fmin(slowest, c->leg[i].speed) : slowest;
    }
    if (isnan(w->distance) || isnan(hb_setting_si(&c->settings, HB_P_LOW_SPEED)))
        return w->distance <= 0.0 ? timed : HUGE_VAL;
    return timed + w->distance / slowest;
}

/* What the fastest leak that was stated leaves after all that time, from the lowest pressure that
 * was stated on: a leak does not end with a reading. */
static double after_leaking(const hobble_case *c, const struct worst *w)
{
    struct hobble_marking m;
    struct hb_settings built_in;
    hb_settings_default(&built_in);
    double slowness = given_or(c, HB_P_LEAK, HUGE_VAL);
    for (size_t i = 0; i < c->legs; i++)
        slowness = fmin(slowness, c->leg[i].leak);
    const double diameter = given_or(c, HB_P_HOLE, 0.0), time = time_carried(c, w);
    double hole = 0.0;
    if (time <= 0.0 || isnan(w->pressure))
        return w->pressure;
    if (diameter > 0.0) {
        if (hobble_marking_parse(c->settings.row[HB_P_MARKING].text, &m, NULL) != HOBBLE_OK)
            return 0.0; /* how much air it holds is not known */
        hole = hb_hole_coefficient(diameter, hb_cavity_volume(&m),
                                   fmax(w->ambient, hb_setting_si(&built_in, HB_P_AMBIENT)));
    }
    return hb_leak_after(1.0 / slowness, hole, w->pressure, time);
}

/* Trip rows that say something against the tyre count beside those of the bench, the worse of
 * both: stating one can only make the verdict worse. */
static struct worst worst_of(const hobble_case *c)
{
    struct worst w = {.pressure = hb_setting_si(&c->settings, HB_P_LOWEST_PRESSURE),
                      .distance = hb_setting_si(&c->settings, HB_P_LOW_DISTANCE),
                      .speed = hb_setting_si(&c->settings, HB_P_LOW_SPEED),
                      .ambient = hb_setting_si(&c->settings, HB_P_AMBIENT)};
    static const enum hb_param_id speeds[] = {HB_P_RUN_SPEED, HB_P_SPEED_BEFORE, HB_P_SPEED};
    for (size_t i = 0; i < sizeof speeds / sizeof *speeds; i++)
        w.speed = higher(w.speed, given_or(c, speeds[i], 0.0));
    w.pressure = lower(w.pressure, given_or(c, HB_P_PRESSURE, HUGE_VAL));
    worst_of_way(c, &w);
    /* the unseen part was driven flat, by what the row means; which tyres are the flat ones is not
     * said, so this is taken to be one */
    const bool flat =
        given_or(c, HB_P_UNSEEN, 0.0) > 0.0 || given_or(c, HB_P_FLAT_TYRES, 0.0) > 0.0;
    w.pressure = flat ? 0.0 : after_leaking(c, &w);
    return w;
}

/* The drive alone is run, at its worst all the way, from steady running at its own speed. */
static void drive_case(const hobble_case *c, const struct worst *w, double built,
                       struct hobble_drive *d, hobble_case *run)
{
    static const enum hb_param_id taken_out[] = {HB_P_RUN,    HB_P_RUN_SPEED,  HB_P_REST,
                                                 HB_P_UNSEEN, HB_P_LEAK,       HB_P_HOLE,
                                                 HB_P_TO,     HB_P_SPEED_LIMIT};
    /* errors that would take load, speed or heat away; load_error's column is "real over stated" */
    static const struct {
        enum hb_param_id row;
        double least;
    } errors[] = {{HB_P_LOAD_ERROR, 1.0}, {HB_P_SPEED_ERROR, 1.0}, {HB_P_AMBIENT_ERROR, 0.0}};
    struct hb_settings built_in;
    hb_settings_default(&built_in);
    *run = *c;
    struct hb_setting *row = run->settings.row;
    for (size_t i = 0; i < sizeof taken_out / sizeof *taken_out; i++)
        row[taken_out[i]] = built_in.row[taken_out[i]];
    for (size_t i = 0; i < sizeof errors / sizeof *errors; i++)
        row[errors[i].row].value = fmax(row[errors[i].row].value, errors[i].least);
    row[HB_P_UNSEEN].value = 0.0;         /* what was driven low is the whole of it */
    row[HB_P_CONSTRUCTION].value = built; /* the marking may be all that tells it */
    d->pressure = w->pressure;
    d->distance = w->distance;
    d->speed = w->speed;
    row[HB_P_SPEED].value = hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, w->speed);
    row[HB_P_SPEED_BEFORE].value = row[HB_P_SPEED].value;
    row[HB_P_PRESSURE].value = hobble_unit_from_si(HOBBLE_UNIT_KILOPASCAL, w->pressure);
    row[HB_P_AMBIENT].value = hobble_unit_from_si(HOBBLE_UNIT_CELSIUS, w->ambient);
    run->leg[0] = (struct hobble_leg){d->speed,    d->distance, (double)NAN, (double)NAN,
                                      (double)NAN, d->pressure, (double)NAN};
    run->legs = 1;
}

/* Why there is nothing to run, or NULL. */
static const char *nothing_to_run(const struct hb_facts *facts)
{
    const double built = facts->value[HB_F_BUILT];
    const bool made_for_it = built >= HB_SELF_SUPPORTING && built <= HB_EXTENDED_MOBILITY;
    if (facts->value[HB_F_LOW_DISTANCE] <= 0.0)
        return "nothing was driven with too little air";
    if (isnan(facts->value[HB_F_DESCRIBED]))
        return "the drive is not described well enough";
    return made_for_it ? NULL : "the model's limits are for tyres that carry without air";
}

static enum hobble_status run_drive(const hobble_case *c, const struct worst *w, double built,
                                    int threads, struct hobble_drive *d, struct hobble_faults *sink)
{
    hobble_case run;
    struct hb_study study;
    struct hb_plan plan;
    drive_case(c, w, built, d, &run);
    enum hobble_status status = hb_study_open(&run, threads, &study, sink);
    if (status == HOBBLE_OK) {
        study.question.load = fmax(study.question.load, w->load);
        for (size_t i = 0; i < study.question.history_count; i++)
            study.question.history[i].load = study.question.load;
        hb_plan_from_now(&study.question, d->speed, study.question.load, AFTERWARDS, false, &plan);
        hb_ensemble_drive(&study.ensemble, &plan);
        read_drive(&study, &plan, d);
        status = study.ensemble.closure > 1e-3 ? HOBBLE_E_ENERGY : HOBBLE_OK;
    }
    hb_study_close(&study);
    return status;
}

/* The model's facts. A size that the model was not fitted to leaves them unknown, which counts
 * against the tyre. */
static enum hobble_status use_model(const hobble_case *c, const struct worst *w, int threads,
                                    struct hobble_drive *d, struct hb_facts *facts,
                                    struct hobble_faults *sink)
{
    struct hobble_faults found = {0};
    const enum hobble_status status = run_drive(c, w, facts->value[HB_F_BUILT], threads, d, &found);
    if (status == HOBBLE_E_UNSUPPORTED) {
        *d = (struct hobble_drive){.why_not = "the model was not fitted to a tyre of this size"};
        facts->value[HB_F_DESCRIBED] = (double)NAN;
        return HOBBLE_OK;
    }
    for (size_t i = 0; i < found.count && i < HOBBLE_FAULTS_KEPT; i++)
        hobble_faults_add(sink, &found.item[i]);
    facts->value[HB_F_MODEL_LIFE] = d->life_p95;
    facts->value[HB_F_MODEL_PEAK] = d->peak_p95 - HB_CELSIUS;
    facts->value[HB_F_MODEL_RIM] = d->rim_share;
    return status;
}

/* Whether a rule for scrap rests on nothing that a later fact could make milder. What a leak leaves
 * counts as nothing until way, speed and size are known, and a stated age gives way to a date
 * code. */
static bool nothing_changes_it(const hobble_case *c, const struct hobble_condition_answer *a)
{
    static const enum hb_param_id passing[] = {HB_P_LEAK, HB_P_HOLE, HB_P_AGE};
    for (size_t i = 0; i < sizeof passing / sizeof *passing; i++)
        if (c->settings.row[passing[i]].given)
            return false;
    return a->verdict == HOBBLE_SCRAP && a->basis == HOBBLE_BY_RULE && c->legs == 0;
}

enum hobble_status hobble_condition_judge(const hobble_case *c, int threads,
                                          struct hobble_condition_answer *out,
                                          struct hobble_faults *sink)
{
    struct hobble_condition_answer a = {0};
    struct hb_facts facts;
    if (!c || !out)
        return HOBBLE_E_INTERNAL;
    enum hobble_status status = hb_facts_check(&c->settings, sink);
    if (status != HOBBLE_OK)
        return status;
    hb_facts_make(&c->settings, &facts);
    const struct worst w = worst_of(c);
    facts.value[HB_F_LOWEST_PRESSURE] = hobble_unit_from_si(HOBBLE_UNIT_KILOPASCAL, w.pressure);
    facts.value[HB_F_LOW_DISTANCE] = hobble_unit_from_si(HOBBLE_UNIT_KILOMETRE, w.distance);
    facts.value[HB_F_LOW_SPEED] = hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, w.speed);
    a.drive.why_not = nothing_to_run(&facts);
    if (!a.drive.why_not)
        status = use_model(c, &w, threads, &a.drive, &facts, sink);
    if (status != HOBBLE_OK)
        return status;
    hb_condition_of(&facts, &a);
    a.decided = nothing_changes_it(c, &a);
    *out = a;
    return HOBBLE_OK;
}
