/* SPDX-License-Identifier: GPL-3.0-or-later */
/* head_rows.c - what every answer in JSON begins and can end with. */
#include "report/describe/word_lists.h"
#include "report/describe/words.h"

#include <math.h>
#include <stdio.h>

struct hb_scope hb_answer_scope(const struct hb_answer *answer, const hobble_case *c,
                                const void *of, bool us)
{
    return (struct hb_scope){
        .rows = answer->row, .answer = answer, .c = c, .of = of, .whole = of, .us = us};
}

/* ---- the beginning --------------------------------------------------------------------------- */

static const char *tool_word(int place)
{
    return place == 0 ? "hobble" : NULL;
}

static void tool(const struct hb_scope *s, struct hb_value *v)
{
    (void)s;
    hb_value_text(v, tool_word(0));
}

static void version(const struct hb_scope *s, struct hb_value *v)
{
    (void)s;
    hb_value_text(v, hobble_version());
}

static void command(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, s->answer->command);
}

const struct hb_row hb_begin_rows[] = {
    {"tool", HB_WORD, .get = tool, .word = tool_word, .meaning = "this program"},
    {"version", HB_TEXT, .get = version, .meaning = "version of the program"},
    {"command", HB_TEXT, .get = command, .meaning = "command that was asked"},
    {0}};

static void profile(const struct hb_scope *s, struct hb_value *v)
{
    const char *name = hobble_case_text(s->c, hobble_param_find("tyre_name"));
    hb_value_text(v, *name ? name : "built in");
}

static void seed(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_count(v, (int)hobble_case_number(s->c, hobble_param_find("seed")));
}

static void members(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_count(v, (int)hobble_case_number(s->c, hobble_param_find("members")));
}

static const char *changed_key(const hobble_case *c, size_t which)
{
    size_t place = 0;
    const char *key = hb_changed_by_hand(c, &place);
    for (size_t i = 0; key && i < which; i++)
        key = hb_changed_by_hand(c, &place);
    return key;
}

size_t hb_count_changed(const struct hb_scope *s)
{
    size_t n = 0;
    while (changed_key(s->c, n))
        n++;
    return n;
}

static void changed(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, changed_key(s->c, s->place));
}

const struct hb_row hb_changed_row[] = {{NULL, HB_TEXT, .get = changed}};

const struct hb_row hb_case_rows[] = {
    {"profile", HB_TEXT, .get = profile, .meaning = "name of the tyre's profile"},
    {"seed", HB_COUNT, .get = seed, .least = 0, .most = 4294967295.0, .meaning = "of the sample"},
    {"members", HB_COUNT, .get = members, .least = 20, .most = 1e6,
     .meaning = "sampled tyres that were asked for"},
    {"changed_by_hand", HB_LIST, .count = hb_count_changed, .of = hb_changed_row,
     .meaning = "keys of the model that are not from the tyre's own profile"},
    {0}};

/* ---- the end: every value used --------------------------------------------------------------- */

static const struct hobble_param *param(const struct hb_scope *s)
{
    return s->of;
}

static int row_of(const struct hb_scope *s)
{
    return (int)(param(s) - hobble_param_table(NULL));
}

static size_t values(const struct hb_scope *s)
{
    size_t rows;
    (void)s;
    hobble_param_table(&rows);
    return rows;
}

static const void *value_item(const struct hb_scope *s, size_t place)
{
    (void)s;
    return &hobble_param_table(NULL)[place];
}

static bool is_number(const struct hb_scope *s)
{
    return param(s)->kind == HOBBLE_NUMBER;
}

static bool is_drawn(const struct hb_scope *s)
{
    return param(s)->stage != HOBBLE_NOT_DRAWN;
}

static void key(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, param(s)->key);
}

/* In the row's own unit: this is what the user set. */
static void value(const struct hb_scope *s, struct hb_value *v)
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

static void unit(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, hobble_unit_symbol(param(s)->unit));
}

static const char *shape_word(int place)
{
    static const char *const words[] = {"normal", "lognormal"};
    return place < (int)HB_COUNT_ROWS(words) ? words[place] : NULL;
}

static void shape(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, shape_word(param(s)->shape == HOBBLE_LOGNORMAL));
}

static void spread(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_number(v, hobble_case_spread(s->c, row_of(s)));
}

static void known(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, hobble_provenance_word(hobble_case_provenance(s->c, row_of(s))));
}

static void set_by(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, hobble_case_origin(s->c, row_of(s)));
}

static void source(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, hobble_case_source(s->c, row_of(s)));
}

const struct hb_row hb_value_rows[] = {
    {"key", HB_TEXT, .get = key, .meaning = "as after --set"},
    {"value", HB_ANY, .get = value, .meaning = "in its unit; null where it is not given"},
    {"unit", HB_TEXT, .get = unit, .meaning = "empty for a pure number"},
    {"shape", HB_WORD, .get = shape, .word = shape_word, .when = is_drawn,
     .meaning = "how it is drawn"},
    {"spread", HB_REAL, .get = spread, .when = is_drawn, .least = 0.0, .most = HUGE_VAL,
     .meaning = "normal: in the unit; lognormal: of the natural logarithm"},
    {"known", HB_WORD, .get = known, .word = hb_provenance_word, .when = is_number,
     .meaning = "how the value is known"},
    {"set_by", HB_TEXT, .get = set_by, .meaning = "option, or file and line"},
    {"source", HB_TEXT, .get = source, .meaning = "of the value"},
    {0}};

static const struct hb_row inherited_row[] = {{NULL, HB_TEXT, .get = key}};

/* The command line adds these where they hold: hb_notes_json and --explain. */
const struct hb_row hb_end_rows[] = {
    {"marking_skipped", HB_TEXT, .get = key,
     .meaning = "what stands behind the marking and was not used"},
    {"inherited", HB_LIST, .count = values, .of = inherited_row, .least = 1, .most = HUGE_VAL,
     .meaning = "keys of the vehicle that its profile does not state: those of the built-in, "
                "invented vehicle are used"},
    {"values", HB_LIST, .count = values, .item = value_item, .of = hb_value_rows,
     .meaning = "with --explain: every value used"},
    {0}};
