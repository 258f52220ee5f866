/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/why_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What to measure for each row that can be measured. */
static const struct {
    const char *key, *what;
} ways[] = {
    {"load_error", "the weight on the wheel"},
    {"stiffness_flat", "the tyre's deflection at no pressure under a known load"},
    {"loss_25c", "the loss tangent of the wall's rubber, or the drag of the flat tyre"},
    {"modulus_100c", "the wall's stiffness hot and cold"},
    {"softening", "the deflection at the beginning and at the end of a run"},
    {"wall_thickness", "the thickness of the wall"},
    {"wall_conductivity", "the heat conductivity of the wall's rubber"},
    {"film_outer", "the temperature of the wall's outer face while driving"},
    {"film_inner", "the temperature of the wall's inner face while driving"},
    {"roll_base", "the rolling resistance with air"},
    {"life_activation", "how long tyres of this type last in cold and in heat"},
    {"life_power", "how long tyres of this type last at two loads"},
    {"wall_limit", "the temperature at which the wall's rubber breaks down"},
    {"speed_error", "the speed that is really kept"},
    {"ambient_error", "the air outside"},
};

void hb_why_order(const struct hobble_why *w, int place[HOBBLE_INDICES_MAX])
{
    const struct hobble_index *x = w->index[HOBBLE_WHY_RANGE];
    for (int i = 0; i < w->count; i++) {
        int k = i;
        for (; k > 0 && x[place[k - 1]].total < x[i].total; k--)
            place[k] = place[k - 1];
        place[k] = i;
    }
}

void hb_why_advice(const struct hobble_why *w, char *buf, size_t size)
{
    if (w->first_row < 0) {
        snprintf(buf, size,
                 "Nothing that can be measured would change the range: it hardly varies.");
        return;
    }
    const char *key = hobble_param_table(NULL)[w->first_row].key, *what = key;
    double total = 0.0;
    for (int i = 0; i < w->count; i++)
        if (w->index[HOBBLE_WHY_RANGE][i].row == w->first_row)
            total = w->index[HOBBLE_WHY_RANGE][i].total;
    for (size_t i = 0; i < sizeof ways / sizeof *ways; i++)
        if (strcmp(ways[i].key, key) == 0)
            what = ways[i].what;
    if (total > 1.0)
        snprintf(
            buf, size,
            "Measure first: %s (%s), as far as can be told: the shares below are too uncertain "
            "for figures (more --members, or a range that is not cut off).",
            what, key);
    else
        snprintf(buf, size,
                 "Measure first: %s (%s). It takes part in %.0f %% of the range's variance, more "
                 "than anything else that can be measured.",
                 what, key, 100.0 * total);
}
