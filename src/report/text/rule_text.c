/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/figure.h"
#include "report/describe/rule_words.h"
#include "report/describe/screen.h"
#include "report/describe/words.h"
#include "report/text/answers.h"

#include "input/quantity.h"

#include <math.h>
#include <string.h>

static void flips(FILE *f, const struct hobble_rule_answer *a, bool us)
{
    static const struct {
        const char *name;
        enum hobble_unit unit;
        int decimals;
    } axis[HOBBLE_FLIPS] = {
        [HOBBLE_FLIP_SPEED] = {"speed", HOBBLE_UNIT_KM_PER_HOUR, 1},
        [HOBBLE_FLIP_LOAD] = {"load on the wheel", HOBBLE_UNIT_NEWTON, 0},
        [HOBBLE_FLIP_AMBIENT] = {"outside air", HOBBLE_UNIT_CELSIUS, 1},
    };
    fprintf(f, "\nIt %s holding, one condition moved and the others as they are, at\n",
            a->holds ? "stops" : "begins");
    for (int i = 0; i < HOBBLE_FLIPS; i++) {
        const struct hobble_flip *flip = &a->flip[i];
        char at[64], here[64], far[64];
        hb_quantity_text(flip->from, axis[i].unit, us, axis[i].decimals, here, sizeof here);
        hb_quantity_text(flip->to, axis[i].unit, us, axis[i].decimals, far, sizeof far);
        fprintf(f, "  %-20s", axis[i].name);
        if (isnan(flip->at)) {
            fprintf(f, " does not flip within limits (%s to %s).\n", here, far);
            hb_print_wrapped(f, "                       ", 23, flip->why_not);
        } else {
            hb_rule_floor(flip->at, axis[i].unit, us, axis[i].decimals > 0 ? 0.1 : 1.0, at,
                          sizeof at);
            fprintf(f, " %*s%s   (here %s)\n", 12 - hb_screen_columns(at), "", at, here);
        }
    }
}

static void numbers(FILE *f, const struct hobble_rule_answer *a, bool us)
{
    char text[64];
    fprintf(f, "\nNumbers\n");
    fprintf(f, "  share of tyres that make it      %6.1f %%  (95 of 100 sure: %.1f to %.1f)\n",
            hb_percent_down(a->share, 1), hb_percent_down(a->share_low, 1),
            hb_percent_up(a->share_high, 1));
    fprintf(f, "  required                         %6.4g %%\n", 100.0 * a->required);
    hb_load_up(a->load, us, text);
    fprintf(f, "  load on the wheel                %s, %.0f %% of its index\n", text,
            100.0 * a->load_share);
    hb_quantity_text(a->ambient, HOBBLE_UNIT_CELSIUS, us, 1, text, sizeof text);
    fprintf(f, "  outside air                      %s\n", text);
    if (a->tested > 0)
        fprintf(f, "  sampled types that pass approval %d of %d\n", a->passed, a->tested);
}

static void cautions(FILE *f, const struct hobble_rule_answer *a, bool us)
{
    char cap[40];
    fprintf(f, "\nCautions\n");
    hb_caution_few(f, a->counted);
    if (!a->vouched)
        hb_print_wrapped(f, "  ", 2,
                         "This counts on the approval mark; a tyre that is not stated to be young, "
                         "never run flat and never repaired may do less: hobble range says how far "
                         "it is advised.");
    if (a->cap < a->distance) {
        hb_rule_floor(a->cap, HOBBLE_UNIT_KILOMETRE, us, 0.1, cap, sizeof cap);
        fprintf(f, "  Advice for this tyre stays at or below %s, whatever this rule says.\n", cap);
    }
    hb_print_wrapped(f, "  ", 2,
                     "Flat from the first metre: what was driven before the warning counts too.");
    for (int i = 0; hb_cautions[i]; i++)
        hb_print_wrapped(f, "  ", 2, hb_cautions[i]);
}

void hb_rule_text(FILE *f, const hobble_case *c, const struct hobble_rule_answer *a, bool us)
{
    char name[96], reason[320], line[160];
    hb_rule_name(a, us, name);
    hb_print_heading(f, c,
                     &(struct hb_heading){&a->marking, a->example, a->example_load, a->load_share});
    snprintf(line, sizeof line, "%s  %s", a->holds ? "HOLDS" : "DOES NOT HOLD", name);
    fprintf(f, "%s\n", line);
    hb_rule_reason(a, us, reason, sizeof reason);
    hb_print_wrapped(f, "  ", 2, reason);
    flips(f, a, us);
    numbers(f, a, us);
    cautions(f, a, us);
}
