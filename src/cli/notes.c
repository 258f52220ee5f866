/* SPDX-License-Identifier: GPL-3.0-or-later */
/* notes.c - what an answer rests on that the asker may not know: said on standard error before it,
 * and in the JSON. */
#include "cli/notes.h"

#include "report/describe/words.h"
#include "report/json/json.h"

#include <math.h>
#include <string.h>

static const char *const inherited_rows[] = {"front_kerb", "rear_kerb",      "seats_front",
                                             "seats_rear", "front_axle_max", "rear_axle_max"};
enum { INHERITED = sizeof inherited_rows / sizeof *inherited_rows };

/* Whether a file says something of the vehicle, and the load rests on it. */
static bool vehicle_by_file(const hobble_case *c)
{
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    bool by_file = false;
    for (size_t i = 0; i < rows; i++)
        by_file = by_file || (p[i].group == HOBBLE_VEHICLE && hobble_case_given(c, (int)i) &&
                              strncmp(hobble_case_origin(c, (int)i), "--", 2) != 0);
    return by_file && isnan(hobble_case_number(c, hobble_param_find("load"))) &&
           isnan(hobble_case_number(c, hobble_param_find("load_share")));
}

static bool is_inherited(const hobble_case *c, int i)
{
    return !hobble_case_given(c, hobble_param_find(inherited_rows[i]));
}

void hb_note_inherited(FILE *f, const char *who, const hobble_case *c)
{
    char text[600];
    int count = 0;
    size_t used = (size_t)snprintf(text, sizeof text, "not stated of %s:", who);
    if (!vehicle_by_file(c))
        return;
    for (int i = 0; i < INHERITED; i++)
        if (is_inherited(c, i))
            used += (size_t)snprintf(text + used, sizeof text - used, "%s %s", count++ ? "," : "",
                                     inherited_rows[i]);
    snprintf(text + used, sizeof text - used,
             "; an invented vehicle's are built in and used. State them in the profile.");
    if (count > 0)
        hb_print_wrapped(f, "hobble: note:", 4, text);
}

/* What stands on the sidewall and was not used; false for nothing. */
static bool skipped(const hobble_case *c, struct hobble_marking *m)
{
    const char *text = hobble_case_text(c, hobble_param_find("marking"));
    return *text && hobble_marking_parse(text, m, NULL) == HOBBLE_OK && *m->skipped;
}

static void note_skipped(FILE *f, const hobble_case *c)
{
    struct hobble_marking m;
    char text[400], word[HOBBLE_FAULT_TEXT];
    const int row = hobble_param_find("construction");
    if (!skipped(c, &m))
        return;
    hobble_param_word_at(&hobble_param_table(NULL)[row], (int)hobble_case_number(c, row), word,
                         sizeof word);
    const bool open = m.unknown_words && m.flat == HOBBLE_MARK_NONE && strcmp(word, "unknown") == 0;
    snprintf(text, sizeof text, "not used of the marking: %s.%s", m.skipped,
             open
                 ? " Makers' letters do not make a run-flat tyre: where the papers or the sidewall "
                   "say self-supporting, or it bears the run-flat sign, state "
                   "--construction self_supporting."
                 : "");
    hb_print_wrapped(f, "hobble: note:", 4, text);
}

void hb_notes(FILE *f, const hobble_case *c)
{
    note_skipped(f, c);
    hb_note_inherited(f, "the vehicle", c);
}

json_t *hb_inherited_json(const hobble_case *c)
{
    json_t *list = json_array();
    for (int i = 0; list && i < INHERITED && vehicle_by_file(c); i++)
        if (is_inherited(c, i))
            json_array_append_new(list, json_string(inherited_rows[i]));
    return list;
}

void hb_notes_json(json_t *object, const hobble_case *c)
{
    struct hobble_marking m;
    json_t *list = hb_inherited_json(c);
    if (skipped(c, &m))
        hb_json_text(object, "marking_skipped", m.skipped);
    if (json_array_size(list) > 0)
        json_object_set(object, "inherited", list);
    json_decref(list);
}
