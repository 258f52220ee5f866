/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/condition_words.h"
#include "report/describe/words.h"
#include "report/text/answers.h"

#include "input/quantity.h"

#include <math.h>
#include <string.h>

enum { INDENT = 2, NAME_SIZE = 64 };

static void rules(FILE *f, const struct hobble_condition_answer *a)
{
    fprintf(f, "\nRules that decided, worst first\n");
    for (int i = 0; i < a->rule_count; i++) {
        char first[NAME_SIZE + INDENT + 2];
        snprintf(first, sizeof first, "  %s:", a->rule[i].id);
        hb_print_wrapped(f, first, INDENT + 2, a->rule[i].reason);
        hb_print_wrapped(f, "    Source: ", 12, a->rule[i].source);
    }
}

static void find_out(FILE *f, const struct hobble_condition_answer *a)
{
    if (a->find_out_count == 0)
        return;
    fprintf(f, "\nFind out\n");
    if (a->matters_most >= 0) {
        char option[NAME_SIZE], text[2 * NAME_SIZE];
        hb_condition_option(a->matters_most, option, sizeof option);
        snprintf(text, sizeof text, "%s: the worst rule that is still open hangs on it.", option);
        hb_print_wrapped(f, "  What would matter most is", INDENT + 2, text);
    }
    for (int i = 0; i < a->find_out_count; i++) {
        char option[NAME_SIZE], first[NAME_SIZE + INDENT + 2];
        hb_condition_option(a->find_out[i], option, sizeof option);
        snprintf(first, sizeof first, "  %s:", option);
        hb_print_wrapped(f, first, INDENT + 2, hobble_param_table(NULL)[a->find_out[i]].meaning);
    }
}

static void quantity(FILE *f, const char *name, double si, enum hobble_unit unit, bool us,
                     int decimals)
{
    char text[NAME_SIZE];
    hb_quantity_text(si, unit, us, decimals, text, sizeof text);
    fprintf(f, "  %-44s %12s\n", name, text);
}

static void drive(FILE *f, const struct hobble_drive *d, bool us)
{
    fprintf(f, "\nThe drive with too little air, in the model\n");
    if (!d->run) {
        fprintf(f, "  Not run: %s.\n", d->why_not);
        return;
    }
    quantity(f, "pressure, all the way", d->pressure, HOBBLE_UNIT_KILOPASCAL, us, 0);
    quantity(f, "distance", d->distance, HOBBLE_UNIT_KILOMETRE, us, 1);
    quantity(f, "speed", d->speed, HOBBLE_UNIT_KM_PER_HOUR, us, 0);
    quantity(f, "load on the wheel", d->load, HOBBLE_UNIT_NEWTON, us, 0);
    quantity(f, "hottest wall, half of the tyres", d->peak_p50, HOBBLE_UNIT_CELSIUS, us, 0);
    quantity(f, "hottest wall, 95 of 100", d->peak_p95, HOBBLE_UNIT_CELSIUS, us, 0);
    quantity(f, "time above 80 C, 95 of 100", d->above_80, HOBBLE_UNIT_MINUTE, us, 1);
    quantity(f, "time above 100 C, 95 of 100", d->above_100, HOBBLE_UNIT_MINUTE, us, 1);
    quantity(f, "time above 120 C, 95 of 100", d->above_120, HOBBLE_UNIT_MINUTE, us, 1);
    fprintf(f, "  %-44s %10.2f %%\n", "life used, half of the tyres", 100.0 * d->life_p50);
    fprintf(f, "  %-44s %10.2f %%\n", "life used, 95 of 100", 100.0 * d->life_p95);
    fprintf(f, "  %-44s %10.0f %%\n", "deflection over that at which the rim carries",
            100.0 * d->deflection_p95);
    fprintf(f, "  %-44s %10.1f %%\n", "tyres on which the rim carried load", 100.0 * d->rim_share);
    hb_print_wrapped(
        f, "  ", INDENT,
        "These numbers can make the verdict worse and never better: a small one does not "
        "show that the tyre is sound.");
}

static void local_rules(FILE *f, const hobble_case *c, const struct hobble_condition_answer *a,
                        bool us)
{
    char name[HOBBLE_FAULT_TEXT];
    hb_condition_rules_name(c, name);
    fprintf(f, "\nLimits: %s\n", name);
    for (int i = 0; i < a->loosened_count; i++) {
        const int row = a->loosened[i];
        char value[NAME_SIZE], strictest[NAME_SIZE];
        hb_condition_value(c, row, us, value, sizeof value);
        hb_quantity_print(hobble_param_table(NULL)[row].value, hobble_param_table(NULL)[row].unit,
                          us, 4, strictest, sizeof strictest);
        if (hobble_param_table(NULL)[row].kind == HOBBLE_WORD)
            hobble_param_word_at(&hobble_param_table(NULL)[row], 0, strictest, sizeof strictest);
        fprintf(f, "  looser than the strictest: %s %s, not %s\n",
                hobble_param_table(NULL)[row].key, value, strictest);
    }
}

void hb_condition_text(FILE *f, const hobble_case *c, const struct hobble_condition_answer *a,
                       bool us)
{
    char job[HOBBLE_FAULT_TEXT];
    hb_print_changed(f, c);
    fprintf(f, "%s\n", hb_condition_headline(a));
    hobble_fault_text(job, hobble_case_text(c, hobble_param_find("job")));
    if (*job)
        fprintf(f, "  Job: %s\n", job);
    hb_print_wrapped(f, "  ", INDENT, hb_condition_meaning(a));
    rules(f, a);
    fprintf(f, "\nStill to be checked by a qualified person\n");
    for (int i = 0; i < a->check_count; i++)
        hb_print_wrapped(f, "  - ", 4, a->check[i]);
    find_out(f, a);
    drive(f, &a->drive, us);
    local_rules(f, c, a, us);
    fprintf(f, "\nCautions\n");
    for (int i = 0; hobble_condition_cautions()[i]; i++)
        hb_print_wrapped(f, "  ", INDENT, hobble_condition_cautions()[i]);
}
