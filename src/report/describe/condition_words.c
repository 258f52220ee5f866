/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/condition_words.h"

#include "report/describe/message.h"
#include "report/describe/words.h"

#include "input/quantity.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void hb_condition_value(const hobble_case *c, int row, bool us, char *buf, size_t size)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    const double value = hobble_case_number(c, row);
    snprintf(buf, size, "%s", hb_message_text(HB_SAY_CONDITION_NOT_KNOWN));
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
