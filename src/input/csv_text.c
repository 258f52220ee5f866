/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/csv_text.h"

#include "input/fault.h"

#include <csv.h>
#include <string.h>

struct reading {
    const struct hb_csv_taker *taker;
    int line; /* of the file; libcsv counts none */
    int row, cell;
};

/* Called by libcsv at the end of every cell; the text has a NUL after it (CSV_APPEND_NULL). */
static void on_cell(void *text, size_t size, void *context)
{
    struct reading *r = context;
    (void)size;
    r->taker->cell(r->taker->into, text ? text : "", r->row, r->cell++, r->line);
}

static void on_row(int end, void *context)
{
    struct reading *r = context;
    (void)end;
    r->taker->end(r->taker->into, r->row++, r->cell, r->line);
    r->cell = 0;
}

/* Line by line, so that faults know theirs; a quoted cell may go over several. What is wrong, or
 * NULL. */
static const char *parse(struct reading *r, struct csv_parser *parser, const char *bytes,
                         size_t size)
{
    size_t at = size >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0; /* libcsv keeps it */
    while (at < size) {
        const char *newline = memchr(bytes + at, '\n', size - at);
        const size_t length = newline ? (size_t)(newline - bytes) - at + 1 : size - at;
        r->line++;
        if (memchr(bytes + at, '\0', length))
            return "a NUL byte";
        if (csv_parse(parser, bytes + at, length, on_cell, on_row, r) != length)
            return csv_strerror(csv_error(parser));
        at += length;
    }
    return csv_fini(parser, on_cell, on_row, r) != 0 ? csv_strerror(csv_error(parser)) : NULL;
}

enum hobble_status hb_csv_read(const char *bytes, size_t size, const char *name, const char *key,
                               const struct hb_csv_taker *taker, struct hobble_faults *sink)
{
    struct csv_parser parser;
    struct reading r = {.taker = taker};
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0)
        return HOBBLE_E_MEMORY;
    const char *wrong = parse(&r, &parser, bytes, size);
    csv_free(&parser);
    return wrong ? hb_fault_at(sink, HOBBLE_E_SYNTAX, name, r.line, key, wrong,
                               "text: cells with commas between, quotes doubled within quotes")
                 : HOBBLE_OK;
}
