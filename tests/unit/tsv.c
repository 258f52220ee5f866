/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tsv.c - see tsv.h. */
#include "tsv.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifndef TEST_DATA_DIR
#define TEST_DATA_DIR "tests/data"
#endif

static char *read_all(const char *path, size_t *length)
{
    FILE *file = fopen(path, "rb");
    size_t room = 65536;
    char *text = malloc(room + 1);

    *length = 0;
    while (file != NULL && text != NULL) {
        size_t got = fread(text + *length, 1, room - *length, file);
        char *more = NULL;

        *length += got;
        if (*length < room)
            break;
        room *= 2;
        more = realloc(text, room + 1);
        if (more == NULL)
            free(text);
        text = more;
    }
    if (file == NULL || text == NULL || ferror(file)) {
        free(text);
        text = NULL;
    } else {
        text[*length] = '\0';
    }
    if (file != NULL)
        (void)fclose(file);
    return text;
}

/* Cuts one line, which ends at end, into table->fields cells; returns how many fields it had. */
static size_t cut_row(struct tsv *table, char *at, const char *end)
{
    char **cell = table->cell + table->rows * table->fields;
    size_t found = 0;

    for (;;) {
        char *tab = memchr(at, '\t', (size_t)(end - at));

        if (found < table->fields)
            cell[found] = at;
        found++;
        if (tab == NULL)
            return found;
        *tab = '\0';
        at = tab + 1;
    }
}

static bool cut_rows(struct tsv *table, size_t length, char *why, size_t why_size)
{
    char *at = table->text;
    int line = 0;

    while (*at != '\0') {
        char *end = strchr(at, '\n');
        size_t found = 0;

        line++;
        if (end == NULL) {
            (void)snprintf(why, why_size, "%s:%d: no newline at the end", table->path, line);
            return false;
        }
        *end = '\0';
        if (*at != '#') {
            found = cut_row(table, at, end);
            if (found != table->fields) {
                (void)snprintf(why, why_size, "%s:%d: %zu fields, wanted %zu", table->path, line,
                               found, table->fields);
                return false;
            }
            table->line[table->rows++] = line;
        }
        at = end + 1;
    }
    if (at != table->text + length) {
        (void)snprintf(why, why_size, "%s:%d: holds a NUL", table->path, line + 1);
        return false;
    }
    return true;
}

bool tsv_load(struct tsv *out, const char *name, size_t fields, size_t least_rows, char *why,
              size_t why_size)
{
    const char *folder = getenv("HB_TEST_DATA");
    size_t length = 0;
    size_t lines = 1;

    memset(out, 0, sizeof *out);
    out->fields = fields;
    (void)snprintf(out->path, sizeof out->path, "%s/%s",
                   folder != NULL && *folder != '\0' ? folder : TEST_DATA_DIR, name);
    out->text = read_all(out->path, &length);
    if (out->text == NULL) {
        (void)snprintf(why, why_size, "%s: cannot be read", out->path);
        return false;
    }
    for (size_t i = 0; i < length; i++)
        lines += out->text[i] == '\n';
    out->cell = calloc(lines * fields, sizeof *out->cell);
    out->line = calloc(lines, sizeof *out->line);
    if (out->cell == NULL || out->line == NULL) {
        (void)snprintf(why, why_size, "%s: out of memory", out->path);
    } else if (cut_rows(out, length, why, why_size)) {
        if (out->rows >= least_rows)
            return true;
        (void)snprintf(why, why_size, "%s: %zu rows, wanted at least %zu", out->path, out->rows,
                       least_rows);
    }
    tsv_free(out);
    return false;
}

void tsv_free(struct tsv *table)
{
    free(table->text);
    free(table->cell);
    free(table->line);
    table->text = NULL;
    table->cell = NULL;
    table->line = NULL;
    table->rows = 0;
}

const char *tsv_cell(const struct tsv *table, size_t row, size_t field)
{
    if (row >= table->rows || field >= table->fields)
        return NULL;
    return table->cell[row * table->fields + field];
}

bool tsv_number(const struct tsv *table, size_t row, size_t field, double *value)
{
    const char *text = tsv_cell(table, row, field);
    char *end = NULL;

    if (text == NULL || *text == '\0' || *text == ' ')
        return false;
    *value = strtod(text, &end);
    return *end == '\0' && isfinite(*value);
}

static int hex_value(char c)
{
    static const char digits[] = "0123456789abcdef";
    const char *at = c == '\0' ? NULL : strchr(digits, c);

    return at == NULL ? -1 : (int)(at - digits);
}

/* Reads what follows a backslash; returns how many characters it took, 0 when it is wrong. */
static size_t read_escape(const char *at, char *value)
{
    static const char names[] = "\\tnr";
    static const char values[] = "\\\t\n\r";
    const char *name = *at == '\0' ? NULL : strchr(names, *at);

    if (name != NULL) {
        *value = values[name - names];
        return 1;
    }
    if (*at != 'x' || hex_value(at[1]) < 0 || hex_value(at[2]) < 0)
        return 0;
    *value = (char)(unsigned char)(hex_value(at[1]) * 16 + hex_value(at[2]));
    return *value == '\0' ? 0 : 3;
}

bool tsv_unescape(const char *field, char *buf, size_t size)
{
    size_t used = 0;

    while (*field != '\0') {
        char c = *field++;

        if (c == '\\') {
            size_t taken = read_escape(field, &c);
            if (taken == 0)
                return false;
            field += taken;
        }
        if (used + 1 >= size)
            return false;
        buf[used++] = c;
    }
    if (size == 0)
        return false;
    buf[used] = '\0';
    return true;
}
