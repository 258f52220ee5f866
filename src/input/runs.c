/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/runs.h"

#include "input/config_text.h"
#include "input/csv_text.h"
#include "input/quantity.h"
#include "input/setting.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TIME = HOBBLE_CHANNELS, COLUMNS, FAULTS_MOST = 8 /* the rest would say the same */ };
static const char *const names[COLUMNS] = {"inner_c", "outer_c", "cavity_c", "shoulder_c",
                                           "time_min"};

/* The limits are those of the table in a profile. */
static const struct {
    double least, most;
    const char *allowed;
} limit[] = {{-40.0, 300.0, "-40 to 300 (degrees Celsius), or nothing"},
             {0.0, 2880.0, "0 to 2880 (minutes from the loss of air)"}};

struct series {
    double *time, *celsius; /* s, C */
    size_t count;
};

struct reading {
    const char *name;
    struct hobble_faults *sink;
    enum hobble_status first;
    int line, faults;
    int column[COLUMNS]; /* where each stands, or -1 */
    int columns;         /* in the first row */
    bool empty;          /* every cell of the row so far */
    double value[COLUMNS];
    double last; /* min */
    struct series series[HOBBLE_CHANNELS];
};

static void complain(struct reading *r, enum hobble_status status, const char *key,
                     const char *given, const char *allowed)
{
    if (r->first == HOBBLE_OK)
        r->first = status;
    if (r->faults++ < FAULTS_MOST)
        hb_fault_at(r->sink, status, r->name, r->line, key, given, allowed);
}

static void take_name(struct reading *r, const char *text, int column)
{
    struct hb_near near = hb_near_to(text);
    int at = 0;
    while (at < COLUMNS && strcmp(text, names[at]) != 0)
        hb_near_try(&near, names[at++]);
    if (at == COLUMNS) {
        complain(r, HOBBLE_E_UNKNOWN, "first line", text,
                 "time_min, inner_c, outer_c, cavity_c, shoulder_c");
        if (r->faults <= FAULTS_MOST)
            hb_fault_meant(r->sink, &near);
    } else if (r->column[at] >= 0) {
        complain(r, HOBBLE_E_DUPLICATE, "first line", text, "each name once");
    } else {
        r->column[at] = column;
    }
}

static void take_number(struct reading *r, const char *text, int which)
{
    static const char digits[] = "0123456789+-.eE";
    char *end;
    text += strspn(text, " \t");
    if (!*text)
        return;
    r->empty = false;
    const double value = hb_number_read(text, &end);
    end += strspn(end, " \t");
    const int of = which == TIME;
    if (*end || !strchr(digits, *text) || strpbrk(text, "xXpP"))
        complain(r, HOBBLE_E_SYNTAX, names[which], text, limit[of].allowed);
    else if (!(value >= limit[of].least && value <= limit[of].most))
        complain(r, HOBBLE_E_RANGE, names[which], text, limit[of].allowed);
    else
        r->value[which] = value;
}

static void on_cell(void *into, const char *text, int row, int column, int line)
{
    struct reading *r = into;
    r->line = line;
    if (row == 0)
        take_name(r, text, column);
    for (int i = 0; row > 0 && i < COLUMNS; i++)
        if (r->column[i] == column)
            take_number(r, text, i);
}

static void end_names(struct reading *r, int cells)
{
    bool any = false;
    r->columns = cells;
    for (int i = 0; i < HOBBLE_CHANNELS; i++)
        any = any || r->column[i] >= 0;
    if (r->first == HOBBLE_OK && r->column[TIME] < 0)
        complain(r, HOBBLE_E_MISSING, names[TIME], "", "a column of this name in the first line");
    if (r->first == HOBBLE_OK && !any)
        complain(r, HOBBLE_E_MISSING, "first line", "",
                 "one of inner_c, outer_c, cavity_c, shoulder_c");
}

static void end_readings(struct reading *r)
{
    char given[40];
    const double time = r->value[TIME];
    if (isnan(time)) {
        complain(r, HOBBLE_E_MISSING, names[TIME], "", limit[1].allowed);
        return;
    }
    if (time <= r->last) {
        hb_number_print(time, 9, given, sizeof given);
        complain(r, HOBBLE_E_CONFLICT, names[TIME], given, "later than in the line before");
    }
    r->last = time;
    for (int i = 0; i < HOBBLE_CHANNELS; i++) {
        struct series *s = &r->series[i];
        if (isnan(r->value[i]))
            continue;
        s->time[s->count] = hobble_unit_to_si(HOBBLE_UNIT_MINUTE, time);
        s->celsius[s->count++] = r->value[i];
    }
}

static void on_row(void *into, int row, int cells, int line)
{
    struct reading *r = into;
    char given[32], allowed[48];
    const enum hobble_status before = r->first;
    r->line = line;
    if (row == 0) {
        end_names(r, cells);
    } else if (cells != r->columns) {
        snprintf(given, sizeof given, "%d cells", cells);
        snprintf(allowed, sizeof allowed, "%d cells, as the first line has", r->columns);
        complain(r, HOBBLE_E_SYNTAX, "", given, allowed);
    } else if (!r->empty && before == HOBBLE_OK) {
        end_readings(r);
    }
    r->empty = true;
    for (int i = 0; i < COLUMNS; i++)
        r->value[i] = (double)NAN;
}

static size_t count_lines(const char *bytes, size_t size)
{
    size_t n = 1;
    for (size_t i = 0; i < size; i++)
        n += bytes[i] == '\n' || bytes[i] == '\r';
    return n;
}

static bool begin(struct reading *r, size_t lines)
{
    bool all = true;
    for (int i = 0; i < COLUMNS; i++) {
        r->column[i] = -1;
        r->value[i] = (double)NAN;
    }
    r->empty = true;
    r->last = -1.0;
    for (int i = 0; i < HOBBLE_CHANNELS; i++) {
        r->series[i].time = calloc(lines, sizeof(double));
        r->series[i].celsius = calloc(lines, sizeof(double));
        all = all && r->series[i].time && r->series[i].celsius;
    }
    return all;
}

static void finish(struct reading *r, struct hobble_evidence *item)
{
    struct hobble_evidence *copy = malloc(sizeof *copy);
    size_t all = 0;
    if (!copy) {
        r->first = HOBBLE_E_MEMORY;
        return;
    }
    memcpy(copy, item, sizeof *copy);
    for (int i = 0; r->first == HOBBLE_OK && i < HOBBLE_CHANNELS; i++) {
        const struct series *s = &r->series[i];
        all += s->count;
        r->first = hobble_evidence_readings(copy, (enum hobble_channel)i, s->time, s->celsius,
                                            s->count, r->sink);
    }
    if (r->first == HOBBLE_OK && all == 0)
        complain(r, HOBBLE_E_MISSING, "", "", "at least one reading");
    if (r->first == HOBBLE_OK)
        memcpy(item, copy, sizeof *item);
    free(copy);
}

enum hobble_status hb_run_read_text(const char *bytes, size_t size, const char *name,
                                    struct hobble_evidence *item, struct hobble_faults *sink)
{
    struct reading r = {.name = name, .sink = sink, .first = HOBBLE_OK};
    const struct hb_csv_taker taker = {on_cell, on_row, &r};
    if (begin(&r, count_lines(bytes, size))) {
        const enum hobble_status status = hb_csv_read(bytes, size, name, "", &taker, sink);
        r.first = r.first == HOBBLE_OK ? status : r.first;
    } else {
        r.first = HOBBLE_E_MEMORY;
    }
    if (r.first == HOBBLE_OK)
        finish(&r, item);
    for (int i = 0; i < HOBBLE_CHANNELS; i++) {
        free(r.series[i].time);
        free(r.series[i].celsius);
    }
    return r.first;
}

enum hobble_status hb_run_read(const char *path, struct hobble_evidence *item,
                               struct hobble_faults *sink)
{
    char *bytes;
    size_t size;
    enum hobble_status status = hb_file_read(path, &bytes, &size, sink);
    if (status == HOBBLE_OK) {
        status = hb_run_read_text(bytes, size, path, item, sink);
        free(bytes);
    }
    return status;
}
