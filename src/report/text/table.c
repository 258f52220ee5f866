/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/text/table.h"

#include <libsmartcols.h>
#include <string.h>

static enum hobble_status titles(struct libscols_table *table, const struct hb_column *column,
                                 size_t columns, const struct hb_scope *scope)
{
    char text[HB_VALUE_TEXT];
    for (size_t i = 0; i < columns; i++) {
        hb_say(column[i].title, scope, text, sizeof text);
        if (!scols_table_new_column(table, text, 0, column[i].right ? SCOLS_FL_RIGHT : 0))
            return HOBBLE_E_MEMORY;
    }
    return HOBBLE_OK;
}

static enum hobble_status add(struct libscols_table *table, const struct hb_column *column,
                              size_t columns, const struct hb_scope *item)
{
    char text[HB_VALUE_TEXT];
    struct libscols_line *line = scols_table_new_line(table, NULL);
    for (size_t i = 0; line && i < columns; i++) {
        hb_say(column[i].cell, item, text, sizeof text);
        if (scols_line_set_data(line, i, text) != 0)
            return HOBBLE_E_MEMORY;
    }
    return line ? HOBBLE_OK : HOBBLE_E_MEMORY;
}

static enum hobble_status fill(struct libscols_table *table, const char *name,
                               const struct hb_column *column, size_t columns,
                               const struct hb_scope *scope)
{
    struct hb_scope list;
    const struct hb_row *row = hb_row_find(name, strlen(name), scope, &list);
    if (!row)
        return HOBBLE_E_INTERNAL;
    enum hobble_status status = titles(table, column, columns, &list);
    const size_t count = row->count(&list);
    for (size_t i = 0; status == HOBBLE_OK && i < count; i++) {
        const struct hb_scope item = hb_row_inside(row, &list, i);
        status = add(table, column, columns, &item);
    }
    return status;
}

enum hobble_status hb_table_print(FILE *f, const char *list, const struct hb_column *column,
                                  size_t columns, const struct hb_scope *scope)
{
    struct libscols_table *table = scols_new_table();
    if (!table)
        return HOBBLE_E_MEMORY;
    enum hobble_status status = fill(table, list, column, columns, scope);
    if (status == HOBBLE_OK) {
        scols_table_set_stream(table, f);
        scols_table_enable_maxout(table, 0);
        scols_table_set_termforce(table, SCOLS_TERMFORCE_NEVER);
        status = scols_print_table(table) == 0 ? HOBBLE_OK : HOBBLE_E_MEMORY;
    }
    scols_unref_table(table);
    return status;
}
