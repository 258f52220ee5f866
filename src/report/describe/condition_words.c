/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/condition_words.h"

#include "report/describe/words.h"

#include "input/quantity.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *hb_condition_headline(const struct hobble_condition_answer *a)
{
    if (a->verdict == HOBBLE_DISMOUNT_AND_INSPECT)
        return "DISMOUNT AND INSPECT";
    return a->basis == HOBBLE_BY_RULE ? "SCRAP" : "SCRAP, as far as is known";
}

const char *hb_condition_meaning(const struct hobble_condition_answer *a)
{
    if (a->verdict == HOBBLE_DISMOUNT_AND_INSPECT)
        return "Repair may be considered by a qualified person, after the tyre is taken off the "
               "rim, "
               "and only if every point to be checked is met.";
    return a->basis == HOBBLE_BY_RULE ? "Do not drive on this tyre and do not have it repaired."
                                      : "Facts are missing, and what is unknown counts at its "
                                        "worst: the tyre stays off the "
                                        "road unless they are found out.";
}

void hb_condition_value(const hobble_case *c, int row, bool us, char *buf, size_t size)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    const double value = hobble_case_number(c, row);
    snprintf(buf, size, "%s", "not known");
    if (p->kind == HOBBLE_TEXT && *hobble_case_text(c, row))
        snprintf(buf, size, "%s", hobble_case_text(c, row));
    else if (p->kind == HOBBLE_NUMBER && !isnan(value))
        hb_quantity_print(value, p->unit, us, 4, buf, size);
    if (p->kind != HOBBLE_WORD)
        return;
    char word[64];
    hobble_param_word_at(p, (int)value, word, sizeof word);
    if (strcmp(word, "unknown") != 0)
        hb_words_spaced(word, buf, size);
}

void hb_condition_option(int row, char *buf, size_t size)
{
    const char *key = hobble_param_table(NULL)[row].key;
    snprintf(buf, size, "--%s", strcmp(key, "marking") == 0 ? "tyre" : key);
    for (char *p = buf; *p; p++)
        if (*p == '_')
            *p = '-';
}

void hb_condition_rules_name(const hobble_case *c, char buf[HOBBLE_FAULT_TEXT])
{
    const char *name = hobble_case_text(c, hobble_param_find("rules_name"));
    hobble_fault_text(buf, *name ? name : "strictest common envelope");
}
