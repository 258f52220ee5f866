/* SPDX-License-Identifier: GPL-3.0-or-later */
/* learn.h - what to measure first: the advice after something is learnt. */
#ifndef HB_STUDY_LEARN_H
#define HB_STUDY_LEARN_H

#include "study/study.h"

/* A tyre's reading, and what that tells of. */
struct hb_heard {
    double reading;
    double left;  /* m that it carries from now */
    double clear; /* deflection at which the rim carries over the one it begins with */
    size_t place; /* tells those that read alike apart */
};

/* What is advised without the reading, and what bounds advice with it. */
struct hb_bounds {
    double stands; /* m: advice now; 0: STOP */
    double cap;    /* m: the most that is allowed */
    double bar;    /* a reading above it is STOP whatever is left: an overload */
    double worth;  /* independent tyres that the sample is worth; at most n */
};

/* Expected advice (m, STOP being 0), and the chance that the verdict turns, if a reading were known
 * that goes with what each of n >= 1 tyres has left. heard is sorted. A nested estimate by
 * regression on the sample (given-data estimator of the value of sample information: Strong, Oakley
 * and Brennan, Med. Decis. Making 34 (2014) 311), here of the low quantile that advice is: see
 * quantile_by.h. The readings' average is over the tyres themselves. HOBBLE_E_MEMORY. */
struct hb_learnt {
    double advice;
    double turns;
};
enum hobble_status hb_learn_by(struct hb_heard *heard, size_t n, const struct hb_bounds *bounds,
                               struct hb_learnt *learnt);

/* The list for the study's question; now is set too. Drives the study's ensemble, and leaves other
 * tyres in its test places. */
enum hobble_status hb_learn(const hobble_case *c, int threads, struct hb_study *study,
                            struct hobble_why *out, struct hobble_faults *sink);

#endif
