/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef HB_STUDY_CASE_H
#define HB_STUDY_CASE_H

#include "core/param.h"

struct hobble_case {
    struct hb_settings settings;
    struct hobble_leg leg[HOBBLE_LEGS_MAX];
    size_t legs;
    size_t items;
    struct hobble_evidence evidence[HOBBLE_EVIDENCE_MAX]; /* last: only what is used is copied */
};

/* A fault that names the item at a place, where the evidence contradicts (-1: it does not): for an
 * answer that has no other way to say that there is no range. */
enum hobble_status hb_case_agrees(const hobble_case *c, int against, struct hobble_faults *sink);

/* Whether evidence tells that this very tyre ran flat before: it was driven so, and farther than
 * the way (m) of the drive that is asked about, or was found destroyed. Then it is scrap, whatever
 * else is stated. */
bool hb_case_ran_flat(const hobble_case *c, double way);

/* Whether two cases have the same list, place by place. */
bool hb_case_same_evidence(const hobble_case *a, const hobble_case *b);

#endif
