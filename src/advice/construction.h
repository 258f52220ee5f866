/* SPDX-License-Identifier: GPL-3.0-or-later */
/* construction.h - how a tyre is built, derived once from its marking and from what is stated. */
#ifndef HB_ADVICE_CONSTRUCTION_H
#define HB_ADVICE_CONSTRUCTION_H

#include "core/param.h"

struct hb_built {
    struct hobble_marking marking; /* the built-in one for an example */
    enum hb_construction construction;
    bool example; /* no marking was given: the built-in tyre, not the asker's */
    bool by_word; /* self-supporting by what is stated alone: the marking has no RF */
};

/* RF or ZRF in the marking is self-supporting (UN R30, section 2). A stated construction completes
 * a marking without it and may not contradict one with it; "unknown" states nothing. Faults go to
 * sink; built is written on HOBBLE_OK only. */
enum hobble_status hb_built_make(const struct hb_settings *settings, struct hb_built *built,
                                 struct hobble_faults *sink);

#endif
