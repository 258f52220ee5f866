/* SPDX-License-Identifier: GPL-3.0-or-later */
/* study.h - a case with its sample and its arrays: what every study starts from. */
#ifndef HB_STUDY_STUDY_H
#define HB_STUDY_STUDY_H

#include "advice/advise.h"
#include "study/case.h"

struct hb_study {
    struct hb_settings settings; /* the case's, on the built-in example where nothing was given */
    struct hb_question question;
    struct hb_ensemble ensemble; /* points at the two above: a study is not copied */
    double *cube;
};

/* Makes question, sample and arrays, ties the types to their tests, and takes the case's evidence
 * in. Free it whatever is returned. */
enum hobble_status hb_study_open(const hobble_case *c, int threads, struct hb_study *study,
                                 struct hobble_faults *sink);
/* The same, without evidence, for a question that was made, with settings that may differ in what
 * no question reads: the model's own rows. */
enum hobble_status hb_study_of(const struct hb_settings *settings,
                               const struct hb_question *question, int threads,
                               struct hb_study *study, struct hobble_faults *sink);
/* Where evidence tells that this very tyre ran flat before, the settings say so from here on, which
 * is for the verdict: the question was made already. */
void hb_case_mark_flat(const hobble_case *c, const struct hb_question *question,
                       struct hb_settings *settings);
void hb_study_close(struct hb_study *study);

#endif
