/* SPDX-License-Identifier: GPL-3.0-or-later */
/* retired.h - keys that profiles once had, and what stands in their place. */
#ifndef HB_INPUT_RETIRED_H
#define HB_INPUT_RETIRED_H

#include "hobble.h"

struct hb_retired {
    const char *key;
    enum hobble_unit unit;
    double least, most; /* that it could be */
    const char *by;     /* the key that replaces it: a number without unit */
    double factor;      /* its value is this times the old one, cut to its limits */
    bool spread;        /* a spread stays what it was */
    const char *how;    /* for a person */
};

/* NULL: never was one. */
const struct hb_retired *hb_retired_find(const char *key);
/* All of them; *count. */
const struct hb_retired *hb_retired_list(size_t *count);

#endif
