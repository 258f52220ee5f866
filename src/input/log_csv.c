/* SPDX-License-Identifier: GPL-3.0-or-later */
/* log_csv.c - drives as tables: RFC 4180 with a comma, a semicolon or a tabulator between. */
#include "input/log_parts.h"

#include <csv.h>
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { COLUMNS_MOST = 256, CELL_MOST = 4096, NAME_MOST = 64 };

struct table {
    struct csv_parser parser;
    bool begun, comma; /* the names are read; a comma is a point */
    int columns;       /* that are of use: up to the last of them */
    struct hb_log_name column[COLUMNS_MOST];
    bool used[COLUMNS_MOST];
    /* the row that is read */
    int cell;
    bool whole; /* nothing of it was unreadable */
    bool wheel, dated;
    struct hobble_sample sample;
    char header[COLUMNS_MOST][NAME_MOST];
    bool first_is_data; /* names were given by letters, and the first line has none */
    enum hobble_status status;
};

/* ---- names --------------------------------------------------------------------------------------
 */

static enum hobble_status use(hobble_log *log, struct table *t, int column,
                              const struct hb_log_name *name, const char *given)
{
    for (int i = 0; i < COLUMNS_MOST; i++)
        if (t->used[i] && t->column[i].field == name->field && name->field != HB_LOG_MARK)
            return hb_log_fault(log, HOBBLE_E_DUPLICATE, hb_log_field_name(name->field), given,
                                "one column of it; --column says which");
    if (name->factor == 0.0 && name->field < HB_LOG_TIME)
        return hb_log_fault(log, HOBBLE_E_UNIT, hb_log_field_name(name->field), given,
                            hb_log_field_units(name->field));
    t->column[column] = *name;
    t->used[column] = true;
    if (column >= t->columns)
        t->columns = column + 1;
    hb_log_recognised(log, given, name);
    return HOBBLE_OK;
}

/* A, B, ... Z, AA as a place; -1: no letter. */
static int by_letter(const char *text)
{
    int place = 0;
    if (strlen(text) > 2 || !*text)
        return -1;
    for (; *text; text++) {
        if (!isalpha((unsigned char)*text))
            return -1;
        place = 26 * place + (toupper((unsigned char)*text) - 'A' + 1);
    }
    return place - 1;
}

static int find_column(const struct table *t, int cells, const char *called)
{
    for (int i = 0; i < cells; i++)
        if (strcmp(t->header[i], called) == 0)
            return i;
    const int letter = by_letter(called);
    return letter < cells ? letter : -1;
}

/* One of --column FIELD=NAME,... */
static enum hobble_status use_said(hobble_log *log, struct table *t, int cells, char *said)
{
    struct hb_log_name name;
    char *called = strchr(said, '=');
    if (!called)
        return hb_log_fault(log, HOBBLE_E_SYNTAX, "--column", said, "FIELD=NAME or FIELD=LETTER");
    *called++ = '\0';
    const int column = find_column(t, cells, called);
    if (!hb_log_name_read(said, &name))
        return hb_log_fault(log, HOBBLE_E_UNKNOWN, "--column", said,
                            "time, speed_kmh, pressure_kpa and so on: docs/drives.md");
    if (column < 0)
        return hb_log_fault(log, HOBBLE_E_UNKNOWN, "--column", called, "a column of the table");
    struct hb_log_name own; /* the column's own unit, where its name has one */
    if (name.factor == 0.0 && hb_log_name_read(t->header[column], &own) && own.field == name.field)
        name = own;
    return use(log, t, column, &name, t->header[column]);
}

static enum hobble_status use_all_said(hobble_log *log, struct table *t, int cells)
{
    char *said = strdup(log->columns), *rest = said;
    enum hobble_status status = said ? HOBBLE_OK : HOBBLE_E_MEMORY;
    for (char *one; status == HOBBLE_OK && (one = strtok_r(rest, ",", &rest));)
        status = use_said(log, t, cells, one);
    free(said);
    return status;
}

static bool is_said(const struct table *t, int field)
{
    for (int i = 0; i < t->columns; i++)
        if (t->used[i] && t->column[i].field == field)
            return true;
    return false;
}

/* By --column first, then by the names of the rest. */
static enum hobble_status take_header(hobble_log *log, struct table *t, int cells)
{
    double number;
    enum hobble_status status = log->columns ? use_all_said(log, t, cells) : HOBBLE_OK;
    for (int i = 0; i < cells && status == HOBBLE_OK; i++) {
        struct hb_log_name name;
        if (!t->used[i] && hb_log_name_read(t->header[i], &name) &&
            !(log->columns && is_said(t, name.field)))
            status = use(log, t, i, &name, t->header[i]);
    }
    if (status == HOBBLE_OK && !is_said(t, HB_LOG_TIME))
        status = hb_log_fault(log, HOBBLE_E_MISSING, "time", t->header[0],
                              "a column called time, timestamp or t, or --column time=A");
    for (int i = 0; i < t->columns && status == HOBBLE_OK; i++)
        if (t->used[i] && t->column[i].field == HB_LOG_TIME)
            t->first_is_data = hb_log_number(t->header[i], t->comma, &number) ||
                               hb_log_date(t->header[i], &number);
    return status;
}

/* ---- cells and rows -----------------------------------------------------------------------------
 */

static void take_value(hobble_log *log, struct table *t, const char *text)
{
    const struct hb_log_name *name = &t->column[t->cell];
    struct hobble_sample *s = &t->sample;
    double value;
    const bool date = name->field == HB_LOG_TIME && hb_log_date(text, &value);
    if (name->field == HB_LOG_MARK)
        hb_log_mark(s, text);
    else if (name->field == HB_LOG_SENSOR)
        t->wheel = hb_log_is_wheel(log, text, &t->status);
    else if (date || hb_log_number(text, t->comma, &value)) {
        if (name->field == HB_LOG_TIME) {
            s->time = date ? value : (value + name->shift) * name->factor;
            t->dated = date;
        } else
            hb_log_put(log, s, name->field, (value + name->shift) * name->factor);
    } else
        t->whole = false;
}

static void cell(void *text, size_t size, void *into)
{
    hobble_log *log = into;
    struct table *t = log->state;
    if (t->status != HOBBLE_OK || t->cell >= COLUMNS_MOST)
        return;
    if (!t->begun)
        snprintf(t->header[t->cell], NAME_MOST, "%.*s", (int)size, (const char *)text);
    else if (t->cell < t->columns && t->used[t->cell] && size > 0)
        take_value(log, t, text);
    t->cell++;
}

static void begin_row(hobble_log *log, struct table *t)
{
    t->cell = 0;
    t->whole = t->wheel = true;
    t->sample = hb_log_sample(log);
}

/* The first line again, as a row: it has no names. */
static void header_as_row(hobble_log *log, struct table *t, int cells)
{
    for (t->cell = 0; t->cell < cells && t->status == HOBBLE_OK; t->cell++)
        if (t->cell < t->columns && t->used[t->cell] && t->header[t->cell][0])
            take_value(log, t, t->header[t->cell]);
}

static void end_row(int end, void *into)
{
    hobble_log *log = into;
    struct table *t = log->state;
    (void)end;
    if (t->status != HOBBLE_OK)
        return;
    if (!t->begun) {
        const int cells = t->cell;
        t->status = take_header(log, t, cells);
        t->begun = true;
        begin_row(log, t);
        if (t->status != HOBBLE_OK || !t->first_is_data)
            return;
        header_as_row(log, t, cells);
    }
    if (!t->whole || isnan(t->sample.time))
        hb_log_odd(log, HOBBLE_LOG_UNREADABLE);
    if (!isnan(t->sample.time) && t->wheel && t->status == HOBBLE_OK)
        t->status = hb_log_pass(log, &t->sample, t->dated);
    begin_row(log, t);
}

/* ---- a table ------------------------------------------------------------------------------------
 */

static enum hobble_status begin(hobble_log *log)
{
    struct table *t = calloc(1, sizeof *t);
    if (!t)
        return HOBBLE_E_MEMORY;
    if (csv_init(&t->parser, CSV_APPEND_NULL) != 0) {
        free(t);
        return HOBBLE_E_MEMORY;
    }
    log->state = t;
    return HOBBLE_OK;
}

/* What stands between the names: the first of the three that there is. */
static void tell_apart(struct table *t, const char *text)
{
    const char between = strchr(text, '\t') ? '\t' : strchr(text, ';') ? ';' : ',';
    csv_set_delim(&t->parser, (unsigned char)between);
    t->comma = between != ',';
}

static enum hobble_status line(hobble_log *log, char *text, size_t size)
{
    struct table *t = log->state;
    if (!t->begun && t->cell == 0)
        tell_apart(t, text);
    if (t->cell == 0)
        begin_row(log, t);
    text[size] = '\n'; /* in place of the NUL behind it */
    if (csv_parse(&t->parser, text, size + 1, cell, end_row, log) != size + 1)
        return HOBBLE_E_MEMORY;
    text[size] = '\0';
    return t->status;
}

static enum hobble_status finish(hobble_log *log)
{
    struct table *t = log->state;
    csv_fini(&t->parser, cell, end_row, log);
    return t->status;
}

static void drop(hobble_log *log)
{
    struct table *t = log->state;
    if (t)
        csv_free(&t->parser);
    free(t);
}

const struct hb_log_kind hb_log_csv = {begin, line, NULL, finish, drop};
