/* SPDX-License-Identifier: GPL-3.0-or-later */
/* csv.c - a list's items, a line each under a line of names: RFC 4180, with line feeds. */
#include "report/json/render.h"

#include "input/quantity.h"

#include <stdio.h>

/* Names are somebody's text: always quoted, quotes doubled. */
static void put_text(FILE *f, const char *text)
{
    fputc('"', f);
    for (; *text; text++) {
        if (*text == '"')
            fputc('"', f);
        fputc(*text, f);
    }
    fputc('"', f);
}

static void put_value(FILE *f, const struct hb_row *row, const struct hb_scope *item)
{
    struct hb_value value;
    char number[40] = "";
    hb_row_value(row, item, &value);
    if (value.is == HB_IS_TEXT) {
        put_text(f, value.text);
        return;
    }
    if (value.is != HB_IS_NULL)
        hb_number_print(value.is == HB_IS_NUMBER ? hobble_unit_from_si(row->unit, value.number)
                                                 : value.number,
                        9, number, sizeof number);
    fputs(number, f);
}

static void put_name(FILE *f, const struct hb_row *row, const struct hb_scope *list)
{
    struct hb_value value = {.is = HB_IS_NULL};
    const char *unit = row->kind == HB_REAL ? hobble_unit_symbol(row->unit) : "";
    if (row->name)
        row->name(list, &value);
    fputs(row->name ? value.text : row->column, f);
    if (*unit)
        fprintf(f, " (%s)", unit);
}

void hb_render_csv(FILE *f, const struct hb_row *list, const struct hb_scope *scope)
{
    const size_t count = list->count(scope);
    const char *before = "";
    for (const struct hb_row *row = list->of; row->key; row++)
        if (row->forms & HB_ON_CSV) {
            fputs(before, f);
            put_name(f, row, scope);
            before = ",";
        }
    fputc('\n', f);
    for (size_t i = 0; i < count; i++) {
        const struct hb_scope item = hb_row_inside(list, scope, i);
        before = "";
        for (const struct hb_row *row = list->of; row->key; row++)
            if (row->forms & HB_ON_CSV) {
                fputs(before, f);
                put_value(f, row, &item);
                before = ",";
            }
        fputc('\n', f);
    }
}
