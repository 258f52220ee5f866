/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/show_words.h"

#include <math.h>
#include <string.h>

const char *hb_end_sentence(enum hobble_end end)
{
    static const char *const sentence[HOBBLE_END_COUNT] = {
        [HOBBLE_END_NONE] = "still carrying",
        [HOBBLE_END_HORIZON] = "still carrying at the end of the picture",
        [HOBBLE_END_LIFE] = "ended by fatigue of the hot wall",
        [HOBBLE_END_HEAT] = "ended by heat in the wall",
        [HOBBLE_END_RIM] = "ended by the rim coming down",
        [HOBBLE_END_SHOULDER] = "ended by heat in the shoulder",
    };
    return (unsigned)end < HOBBLE_END_COUNT ? sentence[end] : "";
}

const char *hb_drawn_unit(const hobble_case *c, int row)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    const bool factor = strcmp(p->key, "stiffness_flat") == 0 && isnan(hobble_case_number(c, row));
    return factor ? "of the size law" : hobble_unit_symbol(p->unit);
}

const char *hb_life_headline(const struct hobble_life *life)
{
    return life->point[0].alive < 0.5 ? "On the rim from the start: there is no run to show"
                                      : "A stop cools the wall; life used never heals";
}
