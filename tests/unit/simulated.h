/* SPDX-License-Identifier: GPL-3.0-or-later */
/* simulated.h - evidence of a tyre that is known: a member of the prior is the truth, units of its
 * type are driven, and what becomes of them is written down as a profile would have it. Written
 * beside src/study/item_likelihood.c and not with it. */
#ifndef HB_TEST_SIMULATED_H
#define HB_TEST_SIMULATED_H

#include "random_case.h"
#include "study/study.h"

/* Independent members of the prior, in place of a sample's even ones. */
void simulated_truths(struct hb_study *study, struct random_source *source);

/* A truth: a member of such a study that counts. */
struct simulated {
    const struct hb_study *study;
    size_t member;
    struct random_source *source;
};

enum simulated_kind {
    SIMULATED_APPROVAL, /* none where a specimen did not pass */
    SIMULATED_STATEMENT,
    SIMULATED_ENDED,
    SIMULATED_PLANNED,   /* it was to go so far: survived, or ended before */
    SIMULATED_DESTROYED, /* found so */
    SIMULATED_KINDS
};

/* Writes an item of random conditions. with: 0..1, how often temperatures were read. False: no such
 * evidence comes of this truth. */
bool simulated_item(const struct simulated *s, enum simulated_kind kind, double with,
                    struct hobble_evidence *item);

/* The truth's way from now in the study's question, m. */
double simulated_way(struct hb_study *study, size_t member);

#endif
