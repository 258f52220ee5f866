/* SPDX-License-Identifier: GPL-3.0-or-later */
/* anchor.h - the life of a type, found from how long it lasts in its own approval test. */
#ifndef HB_CORE_ANCHOR_H
#define HB_CORE_ANCHOR_H

#include "core/build.h"
#include "core/integrate.h"

/* Records a tyre that hb_anchor needs room for. */
enum { HB_ANCHOR_LEGS = 14 };

/* What one round of anchoring is done with; the arrays are the caller's. */
struct hb_anchor {
    struct hb_runner runner;
    const struct hobble_marking *marking;
    double test;                /* s at 80 km/h that the approval test asks for */
    size_t count;               /* tyres */
    const double *last;         /* count: s at 80 km/h after which each is to end; >= test */
    const struct hb_tyre *law;  /* count: built without life (hb_build); not those below */
    struct hb_tyre *tyre;       /* count: the same on the drum */
    struct hb_outcome *outcome; /* count: of the last drive */
    struct hb_record *record;   /* count * HB_ANCHOR_LEGS */
    double *used;               /* count: life used at the end of the test, 0..1 */
    bool *anchored;             /* count: life ends it, and when it should */
    bool *passed;               /* count: it also keeps its height as the test asks */
};

/* Ties every tyre to its own test: sets its life so that life is used up `last` seconds into the
 * test at 80 km/h (0.2 % root mean square, 1.5 % at worst). Not anchored: a tyre that something
 * else ends before. Two drives of the test a tyre: one with life used at a steady pace, along which
 * the life law is summed, and one by the law itself, which corrects what the pace left; a third
 * where that was much (one tyre in thirty). outcome and record hold the last. */
void hb_anchor(const struct hb_anchor *a);

/* The middle tyre of settings and marking as a life reference: tied to its own test where its
 * construction has one; else, and where it cannot be, that of the table's self-supporting tyre.
 * HOBBLE_E_NOT_CONVERGED when neither can be tied. */
enum hobble_status hb_calibrate(const struct hb_settings *settings,
                                const struct hobble_marking *marking,
                                struct hb_life_reference *life);

#endif
