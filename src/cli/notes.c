/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/notes.h"

#include "report/describe/row.h"
#include "report/describe/words.h"
#include "report/json/render.h"

#include <string.h>

static void note(FILE *f, const char *which, const char *whose, const hobble_case *c)
{
    struct hb_scope scope = {.rows = hb_note_rows, .c = c, .of = whose};
    const struct hb_row *row = hb_row_find(which, strlen(which), &scope, &scope);
    char text[HB_VALUE_TEXT];
    if (!row || !hb_row_is_there(row, &scope))
        return;
    hb_row_figure(row, &scope, text, sizeof text);
    hb_print_wrapped(f, "hobble: note:", 4, text);
}

void hb_note_inherited(FILE *f, const char *who, const hobble_case *c)
{
    note(f, "note_inherited", who, c);
}

void hb_notes(FILE *f, const hobble_case *c)
{
    note(f, "note_skipped", "", c);
    hb_note_inherited(f, "the vehicle", c);
}

json_t *hb_inherited_json(const hobble_case *c)
{
    json_t *notes = json_object();
    hb_render_end(notes, hb_note_rows, c);
    json_t *list = json_incref(json_object_get(notes, "inherited"));
    json_decref(notes);
    return list ? list : json_array();
}
