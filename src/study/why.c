/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/const.h"
#include "study/learn.h"
#include "study/shapley.h"
#include "study/sobol.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { BASE = 1000 };   /* of the shares, where no members are asked for */
#define LEAST_WAY 100.0 /* m: a tyre that folds at once has no logarithm of its way */

static const struct {
    const char *word, *meaning;
} outputs[] = {
#define OUTPUT_ROW(code, word, meaning) {word, meaning},
    HOBBLE_WHY_LIST(OUTPUT_ROW)
#undef OUTPUT_ROW
};

const char *hobble_why_word(enum hobble_why_output output)
{
    return (unsigned)output < HOBBLE_WHY_OUTPUTS ? outputs[output].word : "unknown";
}

const char *hobble_why_meaning(enum hobble_why_output output)
{
    return (unsigned)output < HOBBLE_WHY_OUTPUTS ? outputs[output].meaning : "";
}

/* One question, asked of tyres drawn point by point. */
struct asked {
    struct hb_study study; /* its members are drawn anew again and again */
    struct hb_plan plan;
    double distance; /* m from now */
    double closure;
    int runs;
    double shapley[HOBBLE_INDICES_MAX], explained; /* of the tyres that advice rests on */
};

/* From now to the destination, and on until the end. */
static void plan_way(struct asked *a)
{
    const struct hb_question *q = &a->study.question;
    hb_plan_advised(q, a->distance, &a->plan);
    struct hb_leg *on = &a->plan.leg[a->plan.journey.count];
    *on = a->plan.leg[a->plan.journey.count - 1];
    on->kind = HB_UNTIL_END;
    on->extent = 0.0;
    on->set_pressure = false;
    on->goes_on = true;
    a->plan.journey.count++;
}

static void read_one(const struct asked *a, size_t i, double *out)
{
    const size_t legs = a->plan.journey.count;
    const struct hb_outcome *o = &a->study.ensemble.arrays.outcome[i];
    const struct hb_record *record = &a->study.ensemble.arrays.record[i * legs];
    const double before = a->plan.now > 0 ? record[a->plan.now - 1].distance : 0.0;
    out[HOBBLE_WHY_RANGE] = log(fmax(o->distance, LEAST_WAY));
    out[HOBBLE_WHY_PEAK] = record[legs - 2].peak;
    out[HOBBLE_WHY_ARRIVAL] = o->distance - before >= a->distance * (1.0 - 1e-12);
}

static enum hobble_status run(void *context, const double *point, size_t count, double *out)
{
    struct asked *a = context;
    struct hb_ensemble *e = &a->study.ensemble;
    for (size_t i = 0; i < count * (size_t)hb_param_dimensions(); i++)
        a->study.cube[i] = gsl_cdf_ugaussian_Pinv(point[i]);
    const enum hobble_status status = hb_ensemble_make(a->study.cube, e);
    if (status != HOBBLE_OK)
        return status;
    hb_ensemble_drive(e, &a->plan);
    a->closure = fmax(a->closure, e->closure);
    for (size_t i = 0; i < count; i++)
        read_one(a, i, &out[i * HOBBLE_WHY_OUTPUTS]);
    a->runs += (int)count;
    return HOBBLE_OK;
}

/* Of the members that count, as the study has drawn them. */
static enum hobble_status share_among_counted(struct asked *a)
{
    struct hb_ensemble *e = &a->study.ensemble;
    const size_t d = (size_t)hb_param_dimensions(), counted = hb_ensemble_counted(e);
    double *x = calloc(counted * d, sizeof *x), *y = calloc(counted, sizeof *y);
    enum hobble_status status = x && y ? HOBBLE_OK : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK) {
        size_t n = 0;
        hb_ensemble_drive(e, &a->plan);
        for (size_t i = 0; i < e->arrays.members; i++)
            if (hb_ensemble_counts(e, i)) {
                memcpy(&x[n * d], &a->study.cube[i * d], d * sizeof *x);
                y[n++] = log(fmax(e->arrays.outcome[i].distance, LEAST_WAY));
            }
        status = hb_shapley(x, y, n, hb_ensemble_worth(e), (int)d, a->shapley, &a->explained);
    }
    free(x);
    free(y);
    return status;
}

/* ---- the answer ------------------------------------------------------------------------------ */

#define LEAST_SHARE 0.01 /* of a variance: below it the sample's chance decides */

/* Scatter that no measurement on one tyre or vehicle takes away. */
static bool can_be_measured(int row)
{
    return row != HB_P_MARGIN && row != HB_P_LIFE_UNIT;
}

static void write_answer(const struct asked *a, const struct hb_sobol_result *r,
                         struct hobble_why *out)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    int d = 0;
    for (int i = 0; i < HB_PARAM_COUNT && d < HOBBLE_INDICES_MAX; i++) {
        if (row[i].stage == HOBBLE_NOT_DRAWN)
            continue;
        for (int k = 0; k < HOBBLE_WHY_OUTPUTS; k++) {
            const struct hb_sobol_index *s = &r->index[k][d];
            out->index[k][d] =
                (struct hobble_index){i,
                                      s->first,
                                      s->first_low,
                                      s->first_high,
                                      s->total,
                                      s->total_low,
                                      s->total_high,
                                      k == HOBBLE_WHY_RANGE ? a->shapley[d] : (double)NAN};
        }
        d++;
    }
    out->count = d;
    for (int k = 0; k < HOBBLE_WHY_OUTPUTS; k++) {
        out->mean[k] = r->mean[k];
        out->deviation[k] = r->deviation[k];
    }
    out->first_row = -1;
    double most = LEAST_SHARE;
    for (int i = 0; i < d; i++) {
        const struct hobble_index *x = &out->index[HOBBLE_WHY_RANGE][i];
        const double share = isnan(x->shapley) ? x->total : x->shapley;
        if (can_be_measured(x->row) && share > most) {
            most = share;
            out->first_row = x->row;
        }
    }
    out->explained = a->explained;
    out->distance = a->distance;
    out->speed = a->study.question.advised_speed;
    out->marking = a->study.question.built.marking;
    out->example = a->study.question.built.example;
    out->runs = a->runs;
}

static enum hobble_status ask(const hobble_case *c, int threads, struct asked *a,
                              struct hobble_faults *sink)
{
    const enum hobble_status status = hb_study_open(c, threads, &a->study, sink);
    const struct hb_settings *s = &a->study.settings;
    if (status != HOBBLE_OK)
        return status;
    a->distance = hb_setting_known(s, HB_P_TO) ? hb_setting_si(s, HB_P_TO) : HB_RULE_DISTANCE;
    plan_way(a);
    return HOBBLE_OK;
}

static enum hobble_status find(const hobble_case *c, int threads, struct asked *a,
                               struct hb_sobol_result *result, struct hobble_why *answer,
                               struct hobble_faults *sink)
{
    const size_t members = a->study.ensemble.arrays.members;
    const bool given = a->study.settings.row[HB_P_MEMBERS].given;
    const struct hb_sobol_job job = {
        .dimensions = hb_param_dimensions(),
        .outputs = HOBBLE_WHY_OUTPUTS,
        .base = given || members < BASE ? members : BASE,
        .seed = (unsigned long)hb_setting_value(&a->study.settings, HB_P_SEED),
        .run = run,
        .context = a};
    answer->base = (int)job.base;
    enum hobble_status status = share_among_counted(a);
    if (status == HOBBLE_OK)
        status = hb_learn(c, threads, &a->study, answer, sink);
    if (status == HOBBLE_OK)
        status = hb_sobol_run(&job, result); /* draws the study's tyres anew */
    if (status == HOBBLE_OK && a->closure > 1e-3)
        status = HOBBLE_E_ENERGY;
    if (status == HOBBLE_OK)
        write_answer(a, result, answer);
    return status;
}

enum hobble_status hobble_why_find(const hobble_case *c, int threads, struct hobble_why *out,
                                   struct hobble_faults *sink)
{
    struct asked *a = calloc(1, sizeof *a);
    struct hb_sobol_result *result = calloc(1, sizeof *result);
    struct hobble_why answer = {.first_row = -1};
    enum hobble_status status = a && result ? ask(c, threads, a, sink) : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK)
        status = find(c, threads, a, result, &answer, sink);
    if (status == HOBBLE_OK)
        *out = answer;
    if (a)
        hb_study_close(&a->study);
    free(a);
    free(result);
    return status;
}
