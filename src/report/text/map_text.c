/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"
#include "report/describe/words.h"
#include "report/text/answers.h"
#include "report/text/lines.h"

#include <libsmartcols.h>
#include <math.h>
#include <string.h>

enum { COLUMNS_MOST = 9, LINES_MOST = 11 };

static const struct hobble_map *of(const struct hb_scope *s)
{
    return s->of;
}

/* ---- the table: some of the cells, as they lie in the picture ---------------------------------
 */

/* Places to print out of count: all, or evenly chosen ones with both ends. */
static int choose(int count, int most, int *place)
{
    const int n = count < most ? count : most;
    for (int i = 0; i < n; i++)
        place[i] = n > 1 ? (int)lround((double)i * (count - 1) / (n - 1)) : 0;
    return n;
}

/* What is said of a cell. */
static void say(const struct hb_scope *s, int x, int y, enum hb_message id, char *buf, size_t size)
{
    static const char list[] = "cells";
    struct hb_scope at;
    const struct hb_row *row = hb_row_find(list, strlen(list), s, &at);
    const struct hb_scope cell =
        hb_row_inside(row, &at, (size_t)y * (size_t)of(s)->axis[0].count + (size_t)x);
    hb_say(id, &cell, buf, size);
}

static int fill(struct libscols_table *table, const struct hb_scope *s)
{
    int column[COLUMNS_MOST], line[LINES_MOST];
    const int columns = choose(of(s)->axis[0].count, COLUMNS_MOST, column);
    const int lines = choose(of(s)->axis[1].count, LINES_MOST, line);
    char text[HB_VALUE_TEXT];
    if (!scols_table_new_column(table, "", 0, SCOLS_FL_RIGHT))
        return -1;
    for (int i = 0; i < columns; i++) {
        say(s, column[i], 0, HB_SAY_MAP_TICK_ACROSS, text, sizeof text);
        if (!scols_table_new_column(table, text, 0, SCOLS_FL_RIGHT))
            return -1;
    }
    for (int k = lines - 1; k >= 0; k--) { /* upwards, as in the picture */
        struct libscols_line *at = scols_table_new_line(table, NULL);
        say(s, 0, line[k], HB_SAY_MAP_TICK_UP, text, sizeof text);
        if (!at || scols_line_set_data(at, 0, text) != 0)
            return -1;
        for (int i = 0; i < columns; i++) {
            say(s, column[i], line[k], HB_SAY_MAP_CELL, text, sizeof text);
            if (scols_line_set_data(at, (size_t)i + 1, text) != 0)
                return -1;
        }
    }
    return 0;
}

static enum hobble_status print_table(FILE *f, const struct hb_scope *s)
{
    enum hobble_status status = HOBBLE_E_MEMORY;
    struct libscols_table *table = scols_new_table();
    if (!table)
        return HOBBLE_E_MEMORY;
    if (fill(table, s) == 0) {
        scols_table_set_stream(table, f);
        scols_table_enable_maxout(table, 0);
        scols_table_set_termforce(table, SCOLS_TERMFORCE_NEVER);
        status = scols_print_table(table) == 0 ? HOBBLE_OK : HOBBLE_E_MEMORY;
    }
    scols_unref_table(table);
    return status;
}

/* ---- the whole ------------------------------------------------------------------------------- */

static void heading(FILE *f, const struct hb_scope *s)
{
    hb_print_heading(f, s->c,
                     &(struct hb_heading){.marking = &of(s)->marking, .example = of(s)->example});
}

static void cautions(FILE *f, const struct hb_scope *s)
{
    hb_cautions_of_study(f, of(s)->counted);
}

static const struct hb_line before[] = {{HB_PRINTED, .print = heading},
                                        {HB_LINE, .say = HB_SAY_MAP_RANGE_FROM_NOW},
                                        {HB_LINE, .say = HB_SAY_MAP_AXES},
                                        {HB_LINE, .say = HB_SAY_EMPTY},
                                        {0}};

static const struct hb_line after[] = {{HB_TITLE, .say = HB_SAY_MAP_HOLDS_NOT},
                                       {HB_LINE, .say = HB_SAY_MAP_MARKS},
                                       {HB_PRINTED, .print = cautions},
                                       {0}};

enum hobble_status hb_map_text(FILE *f, const hobble_case *c, const struct hobble_map *m, bool us)
{
    const struct hb_scope scope = hb_answer_scope(&hb_map_answer, c, m, us);
    hb_lines_print(f, before, &scope);
    const enum hobble_status status = print_table(f, &scope);
    hb_lines_print(f, after, &scope);
    return status;
}
