/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/incidents.h"

#include "input/config_text.h"
#include "input/csv_text.h"
#include "input/quantity.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MOST_KM 1000.0

struct reading {
    const char *name, *column;
    struct hobble_faults *sink;
    enum hobble_status first;
    int line;
    int wanted;  /* place of the column, or -1 */
    int columns; /* in the first row */
    int count;
    double distance[HOBBLE_HELP_MAX]; /* m */
};

static void complain(struct reading *r, enum hobble_status status, const char *given,
                     const char *allowed)
{
    const enum hobble_status why =
        hb_fault_at(r->sink, status, r->name, r->line, r->column, given, allowed);
    if (r->first == HOBBLE_OK)
        r->first = why;
}

static void take_distance(struct reading *r, const char *text)
{
    char *end;
    const double km = hb_number_read(text, &end);
    end += strspn(end, " \t");
    if (*text == '\0' || *end || !isfinite(km) || !(km >= 0.0 && km <= MOST_KM))
        complain(r, *text ? HOBBLE_E_RANGE : HOBBLE_E_MISSING, text, "0 to 1000 (km)");
    else if (r->count == HOBBLE_HELP_MAX)
        complain(r, HOBBLE_E_TOO_LARGE, text, "at most 5000 incidents");
    else
        r->distance[r->count++] = km * 1e3;
}

static void on_cell(void *context, const char *text, int row, int column, int line)
{
    struct reading *r = context;
    r->line = line;
    if (row == 0 && strcmp(text, r->column) == 0) {
        if (r->wanted >= 0)
            complain(r, HOBBLE_E_DUPLICATE, text, "this name once in the first line");
        r->wanted = column;
    }
    if (row > 0 && column == r->wanted)
        take_distance(r, text);
}

static void on_row(void *context, int row, int cells, int line)
{
    struct reading *r = context;
    char given[32], allowed[48];
    r->line = line;
    if (row == 0)
        r->columns = cells;
    if (row == 0 && r->wanted < 0)
        complain(r, HOBBLE_E_MISSING, "", "a column of this name in the first line");
    if (row > 0 && cells != r->columns) {
        snprintf(given, sizeof given, "%d cells", cells);
        snprintf(allowed, sizeof allowed, "%d cells, as the first line has", r->columns);
        complain(r, HOBBLE_E_SYNTAX, given, allowed);
    }
}

enum hobble_status hb_incidents_read_text(const char *bytes, size_t size, const char *name,
                                          const char *column, struct hobble_help *help,
                                          struct hobble_faults *sink)
{
    struct reading *r = calloc(1, sizeof *r);
    if (!r)
        return HOBBLE_E_MEMORY;
    const struct hb_csv_taker taker = {on_cell, on_row, r};
    r->name = name;
    r->column = column;
    r->sink = sink;
    r->wanted = -1;
    enum hobble_status status = hb_csv_read(bytes, size, name, column, &taker, sink);
    if (r->first == HOBBLE_OK)
        r->first = status;
    if (r->first == HOBBLE_OK && r->count == 0)
        complain(r, HOBBLE_E_MISSING, "", "at least one incident");
    status = r->first;
    if (status == HOBBLE_OK)
        status = hobble_help_set(help, HOBBLE_HELP_INCIDENTS, r->distance, NULL, r->count);
    free(r);
    return status;
}

enum hobble_status hb_incidents_read(const char *path, const char *column, struct hobble_help *help,
                                     struct hobble_faults *sink)
{
    char *bytes;
    size_t size;
    enum hobble_status status = hb_file_read(path, &bytes, &size, sink);
    if (status == HOBBLE_OK) {
        status = hb_incidents_read_text(bytes, size, path, column, help, sink);
        free(bytes);
    }
    return status;
}
