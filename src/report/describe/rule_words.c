/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/rule_words.h"

#include "report/describe/figure.h"
#include "report/describe/words.h"

#include "input/quantity.h"

#include <math.h>
#include <stdio.h>

/* Rounded down: a condition where the rule flips is not shown beyond it. */
void hb_rule_floor(double si, enum hobble_unit unit, bool us, double step, char *buf, size_t size)
{
    double shown = hobble_unit_from_si(unit, si);
    char number[40];
    const char *symbol = us ? hb_quantity_us(unit, &shown) : hobble_unit_symbol(unit);
    hb_number_print(floor(shown / step + 1e-9) * step, 12, number, sizeof number);
    snprintf(buf, size, "%s %s%s", number, unit == HOBBLE_UNIT_CELSIUS ? hb_degree() : "", symbol);
}

/* "80 km at 80 km/h" */
void hb_rule_name(const struct hobble_rule_answer *a, bool us, char buf[static 96])
{
    char way[40], pace[40];
    hb_rule_floor(a->distance, HOBBLE_UNIT_KILOMETRE, us, 0.1, way, sizeof way);
    hb_rule_floor(a->speed, HOBBLE_UNIT_KM_PER_HOUR, us, 0.1, pace, sizeof pace);
    snprintf(buf, 96, "%s at %s", way, pace);
}

void hb_rule_reason(const struct hobble_rule_answer *a, bool us, char *buf, size_t size)
{
    char name[96], reach[40];
    hb_rule_name(a, us, name);
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        if (a->stop[i]) {
            snprintf(buf, size, "It cannot hold: %s", hobble_stop_sentence((enum hobble_stop)i));
            return;
        }
    hb_rule_floor(a->reach, HOBBLE_UNIT_KILOMETRE, us, 0.1, reach, sizeof reach);
    const char *tyres = a->passed > 0 ? "tyres whose type passes approval" : "tyres";
    if (!a->holds && a->share >= a->required)
        snprintf(buf, size,
                 "%.1f %% of the %s make %s; of %d looked at, %.1f %% would have to, to be sure of "
                 "the %.4g %% that are required. More of them (--members) may tell.",
                 hb_percent_down(a->share, 1), tyres, name, a->counted, hb_percent_up(a->needed, 1),
                 100.0 * a->required);
    else
        snprintf(buf, size,
                 "%.1f %% of the %s make %s, %s the %.4g %% that are required%s; %.4g of 100 make "
                 "%s%s.",
                 hb_percent_down(a->share, 1), tyres, name,
                 a->holds ? "no fewer than" : "fewer than", 100.0 * a->required,
                 a->holds ? ", beyond doubt by chance" : "", 100.0 * fmin(a->needed, 1.0),
                 a->reach_censored ? "more than " : "at least ", reach);
}
