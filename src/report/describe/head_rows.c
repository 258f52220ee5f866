/* SPDX-License-Identifier: GPL-3.0-or-later */
/* head_rows.c - what every answer in JSON begins with. */
#include "report/describe/row.h"
#include "report/describe/words.h"

#include <math.h>

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

HB_GET(tool, text, tool_word(0))
HB_GET(version, text, hobble_version())
HB_GET(command, text, s->answer->command)

void hb_get_which(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, s->answer->which);
}

const struct hb_row hb_begin_rows[] = {
    {"tool", HB_WORD, .get = tool, .word = tool_word, .meaning = "this program"},
    {"version", HB_TEXT, .get = version, .least = 1, .most = HUGE_VAL,
     .meaning = "version of the program"},
    {"command", HB_TEXT, .get = command, .meaning = "command that was asked"},
    {0}};

static void profile(const struct hb_scope *s, struct hb_value *v)
{
    const char *name = hobble_case_text(s->c, hobble_param_find("tyre_name"));
    hb_value_text(v, *name ? name : "built in");
}

HB_GET(seed, count, (long)hobble_case_number(s->c, hobble_param_find("seed")))
HB_GET(members, count, (int)hobble_case_number(s->c, hobble_param_find("members")))

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

HB_GET(changed, text, changed_key(s->c, s->place))

const struct hb_row hb_changed_row[] = {{NULL, HB_TEXT, .get = changed}};

const struct hb_row hb_case_rows[] = {
    {"profile", HB_TEXT, .get = profile, .meaning = "name of the tyre's profile"},
    {"seed", HB_COUNT, .get = seed, .least = 0, .most = 1e6, .meaning = "of the sample"},
    {"members", HB_COUNT, .get = members, .least = 20, .most = 1e6,
     .meaning = "sampled tyres that were asked for"},
    {"changed_by_hand", HB_LIST, .count = hb_count_changed, .of = hb_changed_row,
     .meaning = "keys of the model that are not from the tyre's own profile"},
    {0}};
