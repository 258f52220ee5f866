/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/study.h"

#include "solve/threads.h"
#include "study/cube.h"
#include "study/posterior.h"

#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

static void *array_of(size_t count, size_t size)
{
    return calloc(count, size);
}

static enum hobble_status make_arrays(struct hb_study *s, size_t members)
{
    struct hb_arrays *r = &s->ensemble.arrays;
    const size_t legs = s->question.past.count + 2;
    r->members = members;
    r->tyre = array_of(members, sizeof *r->tyre);
    r->test = array_of(members, sizeof *r->test);
    r->passed = array_of(members, sizeof *r->passed);
    r->tied = array_of(members, sizeof *r->tied);
    r->best = array_of(members, sizeof *r->best);
    r->used = array_of(members, sizeof *r->used);
    r->outcome = array_of(members, sizeof *r->outcome);
    r->record =
        array_of(members * (legs > HB_ANCHOR_LEGS ? legs : HB_ANCHOR_LEGS), sizeof *r->record);
    r->sorted = array_of(members, sizeof *r->sorted);
    s->cube = array_of(members * (size_t)hb_param_dimensions(), sizeof *s->cube);
    const bool all = r->tyre && r->test && r->passed && r->tied && r->best && r->used &&
                     r->outcome && r->record && r->sorted && s->cube;
    return all ? HOBBLE_OK : HOBBLE_E_MEMORY;
}

static void no_life_reference(const struct hb_study *s, struct hobble_faults *sink)
{
    struct hobble_fault f = {.status = HOBBLE_E_UNSUPPORTED};
    hobble_fault_text(f.key, "marking");
    hobble_marking_print(&s->question.built.marking, f.given, sizeof f.given);
    hobble_fault_text(f.allowed, "a size whose middle tyre meets its drum test by wearing out");
    hobble_faults_add(sink, &f);
}

/* What the profile knows beside its rows. */
static enum hobble_status take_in(const hobble_case *c, struct hb_study *study)
{
    struct hb_ensemble *e = &study->ensemble;
    struct hb_plan plan;
    hb_plan_asked(&study->question, &plan);
    hb_ensemble_drive(e, &plan);
    e->taken.prior = hb_ensemble_band(e, &plan);
    return hb_posterior_make(c->evidence, c->items, study->cube, e, &e->taken);
}

void hb_case_mark_flat(const hobble_case *c, const struct hb_question *question,
                       struct hb_settings *settings)
{
    const struct hb_history *past = &question->past;
    if (hb_case_ran_flat(c, past->run_seen + past->run_unseen))
        settings->row[HB_P_RAN_FLAT].value = HB_YES;
}

enum hobble_status hb_study_open(const hobble_case *c, int threads, struct hb_study *study,
                                 struct hobble_faults *sink)
{
    struct hb_question question;
    memset(study, 0, sizeof *study); /* so that it can be closed */
    enum hobble_status status = hb_question_make(&c->settings, c->leg, c->legs, &question, sink);
    if (status == HOBBLE_OK)
        status = hb_study_of(&c->settings, &question, threads, study, sink);
    if (status != HOBBLE_OK || c->items == 0)
        return status;
    hb_case_mark_flat(c, &question, &study->settings);
    return take_in(c, study);
}

enum hobble_status hb_study_of(const struct hb_settings *settings,
                               const struct hb_question *question, int threads,
                               struct hb_study *study, struct hobble_faults *sink)
{
    memset(study, 0, sizeof *study);
    gsl_set_error_handler_off();
    study->settings = *settings;
    study->question = *question;
    study->settings.row[HB_P_CONSTRUCTION].value = study->question.built.construction;
    enum hobble_status status =
        make_arrays(study, (size_t)hb_setting_value(&study->settings, HB_P_MEMBERS));
    if (status == HOBBLE_OK)
        status = hb_cube_fill(study->cube, study->ensemble.arrays.members, hb_param_dimensions(),
                              (unsigned long)hb_setting_value(&study->settings, HB_P_SEED));
    if (status != HOBBLE_OK)
        return status;
    study->ensemble.settings = &study->settings;
    study->ensemble.question = &study->question;
    study->ensemble.runner = (struct hb_runner){hb_integrate_shared, threads};
    status = hb_ensemble_make(study->cube, &study->ensemble);
    if (status != HOBBLE_E_NOT_CONVERGED)
        return status;
    no_life_reference(study, sink);
    return HOBBLE_E_UNSUPPORTED;
}

void hb_study_close(struct hb_study *study)
{
    struct hb_arrays *r = &study->ensemble.arrays;
    free(r->tyre);
    free(r->test);
    free(r->passed);
    free(r->tied);
    free(r->best);
    free(r->used);
    free(r->outcome);
    free(r->record);
    free(r->sorted);
    free(study->cube);
    memset(study, 0, sizeof *study);
}
