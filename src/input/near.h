/* SPDX-License-Identifier: GPL-3.0-or-later */
/* near.h - "did you mean": the name nearest to a misspelt word. Case and the difference of '-', '_'
 * and a blank do not count. */
#ifndef HB_INPUT_NEAR_H
#define HB_INPUT_NEAR_H

#include "hobble.h"

struct hb_near {
    const char *word;             /* as it was typed */
    int distance;                 /* of best */
    char best[HOBBLE_FAULT_TEXT]; /* "" while none is near enough */
};

/* Begins a search; word may be NULL. Then try every name that would have been right; the first of
 * the nearest stays in best. */
struct hb_near hb_near_to(const char *word);
void hb_near_try(struct hb_near *near, const char *name);
/* The same with every word of "a|b|c". */
void hb_near_try_words(struct hb_near *near, const char *words);

#endif
