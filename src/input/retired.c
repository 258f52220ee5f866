/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/retired.h"

#include <string.h>

/* drum_life is taken as of the hour's test: of the shorter one of extended mobility that is the
 * cautious side. */
static const struct hb_retired list[] = {
    {"life_type", HOBBLE_UNIT_NONE, 0.05, 20.0, "margin", 1.583, true,
     "margin: 1.583 times life_type, not below 1"},
    {"drum_life", HOBBLE_UNIT_MINUTE, 5.0, 2000.0, "margin", 1.0 / 60.0, false,
     "margin: drum_life over 60 min, not below 1"},
};
enum { COUNT = sizeof list / sizeof *list };

const struct hb_retired *hb_retired_find(const char *key)
{
    for (size_t i = 0; i < COUNT; i++)
        if (strcmp(list[i].key, key) == 0)
            return &list[i];
    return NULL;
}

const struct hb_retired *hb_retired_list(size_t *count)
{
    *count = COUNT;
    return list;
}
