/* SPDX-License-Identifier: GPL-3.0-or-later */
/* end_rows.c - what answers can end with: notes on what they rest on, and every value used. */
#include "report/describe/message.h"
#include "report/describe/word_lists.h"
#include "report/describe/words.h"

#include "input/quantity.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- a row of the parameter table with its value ----------------------------------------------
 */

static const struct hobble_param *param(const struct hb_scope *s)
{
    return s->of;
}

static int row_of(const struct hb_scope *s)
{
    return (int)(param(s) - hobble_param_table(NULL));
}

bool hb_param_is_number(const struct hb_scope *s)
{
    return param(s)->kind == HOBBLE_NUMBER;
}

bool hb_param_is_drawn(const struct hb_scope *s)
{
    return param(s)->stage != HOBBLE_NOT_DRAWN;
}

void hb_get_param_key(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, param(s)->key);
}

/* In the row's own unit: this is what the user set. */
void hb_get_param_value(const struct hb_scope *s, struct hb_value *v)
{
    const double number = hobble_case_number(s->c, row_of(s));
    if (param(s)->kind == HOBBLE_NUMBER)
        hb_value_number(v, number);
    else if (param(s)->kind == HOBBLE_TEXT)
        hb_value_text(v, hobble_case_text(s->c, row_of(s)));
    else {
        hobble_param_word_at(param(s), (int)number, v->room, sizeof v->room);
        hb_value_text(v, v->room);
    }
}

HB_GET(unit, text, hobble_unit_symbol(param(s)->unit))

const char *hb_shape_word(int place)
{
    static const char *const word[] = {"normal", "lognormal", "uniform"};
    return place < 3 ? word[place] : NULL;
}

void hb_get_param_shape(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, hb_shape_word((int)param(s)->shape - HOBBLE_NORMAL));
}

HB_GET(spread, number, hobble_case_spread(s->c, row_of(s)))
HB_GET(known, text, hobble_provenance_word(hobble_case_provenance(s->c, row_of(s))))
HB_GET(set_by, text, hobble_case_origin(s->c, row_of(s)))
HB_GET(source, text, hobble_case_source(s->c, row_of(s)))

/* As the table of --explain says them: a number as it was set, whatever units are asked for. */
static void value_said(const struct hb_scope *s, struct hb_value *v)
{
    hb_get_param_value(s, v);
    if (!hb_param_is_number(s))
        return;
    hb_quantity_print(hobble_case_number(s->c, row_of(s)), param(s)->unit, false, 6, v->room,
                      sizeof v->room);
    hb_value_text(v, v->room);
}

static void spread_said(const struct hb_scope *s, struct hb_value *v)
{
    const double by = hobble_case_spread(s->c, row_of(s));
    const enum hobble_unit of = param(s)->unit;
    v->room[0] = '\0';
    if (hb_param_is_drawn(s) && param(s)->shape == HOBBLE_LOGNORMAL)
        snprintf(v->room, sizeof v->room, "x/ %.3g", exp(by));
    else if (hb_param_is_drawn(s))
        hb_quantity_print(by, of == HOBBLE_UNIT_CELSIUS ? HOBBLE_UNIT_KELVIN : of, false, 4,
                          v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

static void known_said(const struct hb_scope *s, struct hb_value *v)
{
    known(s, v);
    if (param(s)->kind == HOBBLE_TEXT)
        hb_value_text(v, "");
}

const struct hb_row hb_value_rows[] = {
    {"key", HB_TEXT, .get = hb_get_param_key, .meaning = "as after --set"},
    {"value", HB_ANY, .get = hb_get_param_value, .forms = HB_NULLABLE,
     .meaning = "in its unit; null where it is not given"},
    {"unit", HB_TEXT, .get = unit, .meaning = "empty for a pure number"},
    {"shape", HB_WORD, .get = hb_get_param_shape, .word = hb_shape_word, .when = hb_param_is_drawn,
     .meaning = "of the spread"},
    {"spread", HB_REAL, .get = spread, .when = hb_param_is_drawn, .most = HUGE_VAL,
     .meaning = "normal: in the unit; lognormal: of the natural logarithm"},
    {"known", HB_WORD, .get = known, .word = hb_provenance_word, .when = hb_param_is_number,
     .meaning = "how the value is known"},
    {"set_by", HB_TEXT, .get = set_by, .meaning = "option, or file and line"},
    {"source", HB_TEXT, .get = source, .meaning = "of the value"},
    /* said in the table */
    {"value_said", HB_TEXT, .get = value_said, .forms = HB_NOT_JSON},
    {"spread_said", HB_TEXT, .get = spread_said, .forms = HB_NOT_JSON},
    {"known_said", HB_TEXT, .get = known_said, .forms = HB_NOT_JSON},
    {0}};

static size_t values(const struct hb_scope *s)
{
    size_t rows;
    (void)s;
    hobble_param_table(&rows);
    return rows;
}

HB_ITEM(value_item, &hobble_param_table(NULL)[place])

/* Nobody asks for these but where --explain was given. */
HB_WHEN(is_explained, true)

const struct hb_row hb_explain_rows[] = {{"values", HB_LIST, .count = values, .item = value_item,
                                          .of = hb_value_rows, .when = is_explained,
                                          .meaning = "every value used"},
                                         {0}};

/* ---- notes ------------------------------------------------------------------------------------
 */

static const char *const vehicle_rows[] = {"front_kerb", "rear_kerb",      "seats_front",
                                           "seats_rear", "front_axle_max", "rear_axle_max"};
enum { VEHICLE_ROWS = sizeof vehicle_rows / sizeof *vehicle_rows };

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

/* The row at a place of those that a profile leaves to the built-in vehicle, or NULL. */
static const char *inherited_row(const hobble_case *c, size_t place)
{
    for (int i = 0; i < VEHICLE_ROWS && vehicle_by_file(c); i++)
        if (!hobble_case_given(c, hobble_param_find(vehicle_rows[i])) && place-- == 0)
            return vehicle_rows[i];
    return NULL;
}

static size_t inherited_count(const struct hb_scope *s)
{
    size_t n = 0;
    while (inherited_row(s->c, n))
        n++;
    return n;
}

HB_WHEN(has_inherited, inherited_count(s) > 0)
HB_GET(inherited, text, inherited_row(s->c, s->place))

static void inherited_said(const struct hb_scope *s, struct hb_value *v)
{
    const char *key;
    size_t used = 0;
    v->room[0] = '\0';
    for (size_t i = 0; (key = inherited_row(s->c, i)) != NULL && used < sizeof v->room; i++)
        used +=
            (size_t)snprintf(v->room + used, sizeof v->room - used, "%s%s", i > 0 ? ", " : "", key);
    hb_value_text(v, v->room);
}

static bool marking(const hobble_case *c, struct hobble_marking *m)
{
    const char *text = hobble_case_text(c, hobble_param_find("marking"));
    return *text && hobble_marking_parse(text, m, NULL) == HOBBLE_OK && *m->skipped;
}

static bool has_skipped(const struct hb_scope *s)
{
    struct hobble_marking m;
    return marking(s->c, &m);
}

static void skipped(const struct hb_scope *s, struct hb_value *v)
{
    struct hobble_marking m;
    if (!marking(s->c, &m))
        return;
    snprintf(v->room, sizeof v->room, "%s", m.skipped);
    hb_value_text(v, v->room);
}

/* Letters that may be a maker's for a run-flat tyre, and nothing else says whether it is one. */
static bool is_open(const hobble_case *c)
{
    struct hobble_marking m;
    char word[HOBBLE_FAULT_TEXT];
    const int row = hobble_param_find("construction");
    hobble_param_word_at(&hobble_param_table(NULL)[row], (int)hobble_case_number(c, row), word,
                         sizeof word);
    return marking(c, &m) && m.unknown_words && m.flat == HOBBLE_MARK_NONE &&
           strcmp(word, "unknown") == 0;
}

HB_GET(note_skipped, say, is_open(s->c) ? HB_SAY_NOTE_SKIPPED_LETTERS : HB_SAY_NOTE_SKIPPED, s)
HB_GET(whose, text, s->of)
HB_GET(note_inherited, say, HB_SAY_NOTE_INHERITED, s)

static const struct hb_row inherited_key[] = {{NULL, HB_TEXT, .get = inherited}};

const struct hb_row hb_note_rows[] = {
    {"marking_skipped", HB_TEXT, .get = skipped, .when = has_skipped,
     .meaning = "what stands behind the marking and was not used"},
    {"inherited", HB_LIST, .count = inherited_count, .of = inherited_key, .when = has_inherited,
     .least = 1, .most = HUGE_VAL,
     .meaning = "keys of the vehicle that its profile does not state: those of the built-in, "
                "invented vehicle are used"},
    /* said on standard error; the scope's struct is the name of the vehicle */
    {"note_skipped", HB_TEXT, .get = note_skipped, .when = has_skipped, .forms = HB_NOT_JSON},
    {"note_inherited", HB_TEXT, .get = note_inherited, .when = has_inherited, .forms = HB_NOT_JSON},
    {"inherited_said", HB_TEXT, .get = inherited_said, .forms = HB_NOT_JSON},
    {"whose", HB_TEXT, .get = whose, .forms = HB_NOT_JSON},
    {0}};
