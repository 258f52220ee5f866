/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/row.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void hb_value_number(struct hb_value *value, double si)
{
    value->is = isfinite(si) ? HB_IS_NUMBER : HB_IS_NULL;
    value->number = si;
}

void hb_value_count(struct hb_value *value, long count)
{
    value->is = HB_IS_COUNT;
    value->number = (double)count;
}

void hb_value_truth(struct hb_value *value, bool truth)
{
    value->is = HB_IS_TRUTH;
    value->number = truth;
}

void hb_value_text(struct hb_value *value, const char *text)
{
    value->is = text ? HB_IS_TEXT : HB_IS_NULL;
    value->text = text;
}

bool hb_row_is_there(const struct hb_row *row, const struct hb_scope *scope)
{
    return !row->when || row->when(scope);
}

/* An enumeration is read as an int: C17 6.7.2.2 leaves its type to the compiler, and those that
 * build this take int or unsigned int. */
static void read_at(const struct hb_row *row, const void *at, struct hb_value *value)
{
    int word;
    switch (row->kind) {
    case HB_REAL:
        hb_value_number(value, *(const double *)at);
        break;
    case HB_COUNT:
        hb_value_count(value, *(const int *)at);
        break;
    case HB_TRUTH:
        hb_value_truth(value, *(const bool *)at);
        break;
    case HB_TEXT:
        hb_value_text(value, *(const char *const *)at);
        break;
    case HB_WORD:
        memcpy(&word, at, sizeof word);
        hb_value_text(value, row->word(word));
        break;
    case HB_ANY:
    case HB_OBJECT:
    case HB_LIST:
    case HB_NAMED:
    case HB_TUPLE:
        break;
    }
}

void hb_row_value(const struct hb_row *row, const struct hb_scope *scope, struct hb_value *value)
{
    value->is = HB_IS_NULL;
    value->text = NULL;
    if (!hb_row_is_there(row, scope))
        return;
    if (row->get)
        row->get(scope, value);
    else
        read_at(row, (const char *)scope->of + row->at, value);
}

struct hb_scope hb_row_inside(const struct hb_row *row, const struct hb_scope *scope, size_t place)
{
    struct hb_scope inside = *scope;
    inside.of = row->item ? row->item(scope, place) : (const char *)scope->of + row->at;
    if (row->kind == HB_OBJECT || row->kind == HB_TUPLE)
        return inside;
    inside.up = scope;
    inside.rows = row->of;
    inside.place = place;
    return inside;
}

void hb_row_figure(const struct hb_row *row, const struct hb_scope *scope, char *buf, size_t size)
{
    struct hb_value value;
    char figure[HB_FIGURE];
    hb_row_value(row, scope, &value);
    switch (value.is) {
    case HB_IS_NULL:
        snprintf(buf, size, "-");
        break;
    case HB_IS_TEXT:
        snprintf(buf, size, "%s", value.text);
        break;
    case HB_IS_TRUTH:
        snprintf(buf, size, "%s", value.number > 0.0 ? "yes" : "no");
        break;
    case HB_IS_COUNT:
        snprintf(buf, size, "%.0f", value.number);
        break;
    case HB_IS_NUMBER:
        hb_figure(value.number, row->unit, scope->us, row->shown, figure);
        snprintf(buf, size, "%s", figure);
        break;
    }
}

static const struct hb_row *find(const struct hb_row *row, const char *path, size_t length,
                                 struct hb_scope *scope)
{
    const char *dot = memchr(path, '.', length);
    const size_t first = dot ? (size_t)(dot - path) : length;
    if (!row->key) /* an item that is one value */
        return length == strlen("item") && memcmp(path, "item", length) == 0 ? row : NULL;
    for (; row->key; row++) {
        if (strlen(row->key) != first || memcmp(row->key, path, first) != 0)
            continue;
        if (!dot)
            return row;
        struct hb_scope inside = hb_row_inside(row, scope, scope->place);
        const struct hb_row *found = find(row->of, dot + 1, length - first - 1, &inside);
        if (found) {
            *scope = inside;
            return found;
        }
    }
    return NULL;
}

const struct hb_row *hb_row_find(const char *path, size_t length, const struct hb_scope *scope,
                                 struct hb_scope *found)
{
    for (; scope; scope = scope->up) {
        const struct hb_row *const tables[] = {scope->rows, scope->up ? NULL : hb_begin_rows,
                                               scope->up ? NULL : hb_case_rows};
        for (size_t i = 0; i < HB_COUNT_ROWS(tables) && tables[i]; i++) {
            *found = *scope;
            const struct hb_row *row = find(tables[i], path, length, found);
            if (row)
                return row;
        }
    }
    return NULL;
}
