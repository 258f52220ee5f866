/* SPDX-License-Identifier: GPL-3.0-or-later */
/* learn.h - what to measure first: the advice after something is learnt. */
#ifndef HB_STUDY_LEARN_H
#define HB_STUDY_LEARN_H

#include "study/study.h"

/* A tyre's reading, and what it has left (m). place tells those that read alike apart. */
struct hb_heard {
    double reading, left;
    size_t place;
};

/* Expected advice (m) and the chance that the verdict turns, if a reading were known that goes with
 * what each of n >= 1 tyres has left. heard is sorted; room: n doubles. stands: the advice now;
 * cap: the most that is allowed, m. A nested estimate by regression on the sample: tyres of like
 * reading are taken together, a hundred or more, and their low quantile is what the advice would be
 * (given-data estimator of the value of sample information: Strong, Oakley and Brennan, Med. Decis.
 * Making 34 (2014) 311, with steps in place of splines). */
struct hb_learnt {
    double advice;
    double turns;
};
struct hb_learnt hb_learn_by(struct hb_heard *heard, size_t n, double stands, double cap,
                             double *room);

/* The list for the study's question; now is set too. Drives the study's ensemble. */
enum hobble_status hb_learn(const hobble_case *c, int threads, struct hb_study *study,
                            struct hobble_why *out, struct hobble_faults *sink);

#endif
