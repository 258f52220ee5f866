/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/incidents.h"

#include "input/config_text.h"
#include "input/quantity.h"

#include <csv.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MOST_KM 1000.0

struct reading {
    const char *name, *column;
    struct hobble_faults *sink;
    enum hobble_status first;
    int line;    /* of the file; libcsv counts none */
    int row;     /* 0: the names */
    int cell;    /* in this row */
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

/* Called by libcsv at the end of every cell; the text has a NUL after it (CSV_APPEND_NULL). */
static void on_cell(void *text, size_t size, void *context)
{
    struct reading *r = context;
    const char *t = text ? text : "";
    const bool whole = strlen(t) == size;
    if (r->row == 0 && whole && strcmp(t, r->column) == 0) {
        if (r->wanted >= 0)
            complain(r, HOBBLE_E_DUPLICATE, t, "this name once in the first line");
        r->wanted = r->cell;
    }
    if (r->row > 0 && r->cell == r->wanted)
        take_distance(r, whole ? t : "");
    r->cell++;
}

static void on_row(int end, void *context)
{
    struct reading *r = context;
    char given[32], allowed[48];
    (void)end;
    if (r->row == 0)
        r->columns = r->cell;
    if (r->row == 0 && r->wanted < 0)
        complain(r, HOBBLE_E_MISSING, "", "a column of this name in the first line");
    if (r->row > 0 && r->cell != r->columns) {
        snprintf(given, sizeof given, "%d cells", r->cell);
        snprintf(allowed, sizeof allowed, "%d cells, as the first line has", r->columns);
        complain(r, HOBBLE_E_SYNTAX, given, allowed);
    }
    r->row++;
    r->cell = 0;
}

/* Line by line, so that faults know theirs; a quoted cell may go over several. */
static void parse(struct reading *r, struct csv_parser *parser, const char *bytes, size_t size)
{
    size_t at = size >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0; /* libcsv keeps it */
    while (at < size) {
        const char *newline = memchr(bytes + at, '\n', size - at);
        const size_t length = newline ? (size_t)(newline - bytes) - at + 1 : size - at;
        r->line++;
        if (memchr(bytes + at, '\0', length)) {
            complain(r, HOBBLE_E_SYNTAX, "a NUL byte", "text");
            return;
        }
        if (csv_parse(parser, bytes + at, length, on_cell, on_row, r) != length) {
            complain(r, HOBBLE_E_SYNTAX, csv_strerror(csv_error(parser)),
                     "cells with commas between, quotes doubled within quotes");
            return;
        }
        at += length;
    }
    if (csv_fini(parser, on_cell, on_row, r) != 0)
        complain(r, HOBBLE_E_SYNTAX, csv_strerror(csv_error(parser)),
                 "a quote at the end of the cell");
}

enum hobble_status hb_incidents_read_text(const char *bytes, size_t size, const char *name,
                                          const char *column, struct hobble_help *help,
                                          struct hobble_faults *sink)
{
    struct csv_parser parser;
    struct reading *r = calloc(1, sizeof *r);
    if (!r || csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0) {
        free(r);
        return HOBBLE_E_MEMORY;
    }
    r->name = name;
    r->column = column;
    r->sink = sink;
    r->wanted = -1;
    parse(r, &parser, bytes, size);
    csv_free(&parser);
    if (r->first == HOBBLE_OK && r->count == 0)
        complain(r, HOBBLE_E_MISSING, "", "at least one incident");
    enum hobble_status status = r->first;
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
