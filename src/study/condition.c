/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/condition.h"

#include "core/const.h"
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

/* What the driver's question asks about now, taken out: the drive alone is run, from steady
 * running at its own speed. */
static void drive_case(const hobble_case *c, double built, struct hobble_drive *d, hobble_case *run)
{
    static const enum hb_param_id taken_out[] = {HB_P_RUN,    HB_P_RUN_SPEED,  HB_P_REST,
                                                 HB_P_UNSEEN, HB_P_LEAK,       HB_P_HOLE,
                                                 HB_P_TO,     HB_P_SPEED_LIMIT};
    struct hb_settings built_in;
    hb_settings_default(&built_in);
    *run = *c;
    for (size_t i = 0; i < sizeof taken_out / sizeof *taken_out; i++)
        run->settings.row[taken_out[i]] = built_in.row[taken_out[i]];
    run->settings.row[HB_P_UNSEEN].value = 0.0; /* what was driven low is the whole of it */
    run->settings.row[HB_P_CONSTRUCTION].value = built; /* the marking may be all that tells it */
    d->pressure = hb_setting_si(&c->settings, HB_P_LOWEST_PRESSURE);
    d->distance = hb_setting_si(&c->settings, HB_P_LOW_DISTANCE);
    d->speed = hb_setting_si(&c->settings, HB_P_LOW_SPEED);
    const double shown_speed = hb_setting_value(&c->settings, HB_P_LOW_SPEED);
    run->settings.row[HB_P_SPEED].value = shown_speed;
    run->settings.row[HB_P_SPEED_BEFORE].value = shown_speed;
    run->settings.row[HB_P_PRESSURE].value = hb_setting_value(&c->settings, HB_P_LOWEST_PRESSURE);
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

static enum hobble_status run_drive(const hobble_case *c, double built, int threads,
                                    struct hobble_drive *d, struct hobble_faults *sink)
{
    hobble_case run;
    struct hb_study study;
    struct hb_plan plan;
    drive_case(c, built, d, &run);
    enum hobble_status status = hb_study_open(&run, threads, &study, sink);
    if (status == HOBBLE_OK) {
        hb_plan_from_now(&study.question, d->speed, study.question.load, AFTERWARDS, false, &plan);
        hb_ensemble_drive(&study.ensemble, &plan);
        read_drive(&study, &plan, d);
        status = study.ensemble.closure > 1e-3 ? HOBBLE_E_ENERGY : HOBBLE_OK;
    }
    hb_study_close(&study);
    return status;
}

/* Facts of a drive that belong to the driver's question are not passed over: a bad one that was
 * ignored would flatter the verdict. They are refused with the name of the fact to state. */
static enum hobble_status check_rows(const hobble_case *c, struct hobble_faults *sink)
{
    static const struct {
        enum hb_param_id id;
        const char *instead;
    } refused[] = {
        {HB_P_PRESSURE, "lowest_pressure"}, {HB_P_LEAK, "lowest_pressure"},
        {HB_P_HOLE, "lowest_pressure"},     {HB_P_RUN, "low_distance"},
        {HB_P_UNSEEN, "low_distance"},      {HB_P_RUN_SPEED, "low_speed"},
        {HB_P_SPEED, "low_speed"},          {HB_P_REST, "low_distance"},
        {HB_P_FLAT_TYRES, "one tyre at a time"},
    };
    enum hobble_status status = HOBBLE_OK;
    for (size_t i = 0; i < sizeof refused / sizeof *refused + 1; i++) {
        const bool leg = i == sizeof refused / sizeof *refused;
        struct hobble_fault f = {.status = HOBBLE_E_CONFLICT};
        if (leg ? c->legs == 0 : !c->settings.row[refused[i].id].given)
            continue;
        hobble_fault_text(f.key, leg ? "leg" : hobble_param_table(NULL)[refused[i].id].key);
        hobble_fault_text(f.allowed, leg ? "low_distance" : refused[i].instead);
        status = hobble_faults_add(sink, &f);
    }
    return status;
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
    const enum hobble_status rows = check_rows(c, sink);
    status = status == HOBBLE_OK ? rows : status;
    if (status != HOBBLE_OK)
        return status;
    hb_facts_make(&c->settings, &facts);
    a.drive.why_not = nothing_to_run(&facts);
    if (!a.drive.why_not) {
        status = run_drive(c, facts.value[HB_F_BUILT], threads, &a.drive, sink);
        facts.value[HB_F_MODEL_LIFE] = a.drive.life_p95;
        facts.value[HB_F_MODEL_PEAK] = a.drive.peak_p95 - HB_CELSIUS;
        facts.value[HB_F_MODEL_RIM] = a.drive.rim_share;
    }
    if (status != HOBBLE_OK)
        return status;
    hb_condition_of(&facts, &a);
    *out = a;
    return HOBBLE_OK;
}
