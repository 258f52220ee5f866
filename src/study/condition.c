/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/condition.h"

#include "advice/seen.h"
#include "core/const.h"
#include "study/study.h"

#include <math.h>

/* Errors set by hand that would take load, speed or heat away count for nothing here; load_error's
 * column is "real over stated". */
static void no_lighter(struct hb_settings *s)
{
    static const struct {
        enum hb_param_id row;
        double least;
    } errors[] = {{HB_P_LOAD_ERROR, 1.0}, {HB_P_SPEED_ERROR, 1.0}, {HB_P_AMBIENT_ERROR, 0.0}};
    for (size_t i = 0; i < sizeof errors / sizeof *errors; i++)
        s->row[errors[i].row].value = fmax(s->row[errors[i].row].value, errors[i].least);
}

/* Why there is nothing to run, or NULL. */
static const char *nothing_to_run(const struct hb_facts *facts)
{
    const double built = facts->value[HB_F_BUILT];
    const bool made_for_it = built >= HB_SELF_SUPPORTING && built <= HB_EXTENDED_MOBILITY;
    if (facts->value[HB_F_LOW_DISTANCE] <= 0.0 || facts->past->count == 0)
        return "nothing was driven with too little air";
    if (isnan(facts->value[HB_F_DESCRIBED]))
        return "the drive is not described well enough";
    return made_for_it ? NULL : "the model's limits are for tyres that carry without air";
}

static enum hobble_status run_drive(const hobble_case *c, const struct hb_question *q, int threads,
                                    struct hobble_drive *d, struct hobble_faults *sink)
{
    struct hb_settings settings = c->settings;
    struct hb_study study;
    struct hb_plan plan;
    no_lighter(&settings);
    enum hobble_status status = hb_study_of(&settings, q, threads, &study, sink);
    if (status == HOBBLE_OK) {
        hb_plan_history(&study.question, &plan);
        hb_ensemble_drive(&study.ensemble, &plan);
        hb_drive_read(&study.ensemble, &plan, plan.now - 1, d);
        status = study.ensemble.closure > 1e-3 ? HOBBLE_E_ENERGY : HOBBLE_OK;
    }
    hb_study_close(&study);
    return status;
}

/* The model's facts. A size that the model was not fitted to leaves them unknown, which counts
 * against the tyre. */
static enum hobble_status use_model(const hobble_case *c, const struct hb_question *q, int threads,
                                    struct hobble_drive *d, struct hb_facts *facts,
                                    struct hobble_faults *sink)
{
    struct hobble_faults found = {0};
    const enum hobble_status status = run_drive(c, q, threads, d, &found);
    if (status == HOBBLE_E_UNSUPPORTED) {
        *d = (struct hobble_drive){.why_not = "the model was not fitted to a tyre of this size"};
        facts->value[HB_F_DESCRIBED] = (double)NAN;
        return HOBBLE_OK;
    }
    for (size_t i = 0; i < found.count && i < HOBBLE_FAULTS_KEPT; i++)
        hobble_faults_add(sink, &found.item[i]);
    hb_condition_use(d, facts);
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
    struct hb_settings settings; /* facts point at them */
    struct hb_facts facts;
    struct hb_question q;
    if (!c || !out)
        return HOBBLE_E_INTERNAL;
    enum hobble_status status = hb_facts_check(&c->settings, sink);
    if (status == HOBBLE_OK)
        status = hb_question_make(&c->settings, c->leg, c->legs, &q, sink);
    if (status != HOBBLE_OK)
        return status;
    settings = c->settings;
    if (hb_case_ran_flat(c, q.past.run_seen + q.past.run_unseen))
        settings.row[HB_P_RAN_FLAT].value = HB_YES;
    hb_facts_make(&settings, &q.past, &facts);
    a.drive.why_not = nothing_to_run(&facts);
    if (!a.drive.why_not)
        status = use_model(c, &q, threads, &a.drive, &facts, sink);
    if (status != HOBBLE_OK)
        return status;
    hb_condition_of(&facts, &a);
    a.decided = nothing_changes_it(c, &a);
    *out = a;
    return HOBBLE_OK;
}
