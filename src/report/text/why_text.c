/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"
#include "report/describe/words.h"
#include "report/text/answers.h"
#include "report/text/lines.h"
#include "report/text/table.h"

#include <math.h>

static void heading(FILE *f, const struct hb_scope *s)
{
    const struct hobble_why *w = s->of;
    hb_print_heading(f, s->c, &(struct hb_heading){.marking = &w->marking, .example = w->example});
}

static const struct hobble_why *of(const struct hb_scope *s)
{
    return s->of;
}

static void advice(FILE *f, const struct hb_scope *s)
{
    char text[HB_VALUE_TEXT];
    hb_say(HB_SAY_WHY_ADVICE_FIRST, s, text, sizeof text);
    hb_print_wrapped(f, "", 0, text);
}

static void few(FILE *f, const struct hb_scope *s)
{
    hb_caution_few(f, of(s)->counted);
}

HB_WHEN(is_learnable, of(s)->learn_count > 0)
HB_WHEN(is_at_best, is_learnable(s) && of(s)->learn[of(s)->learn_count - 1].at_best)
HB_WHEN(is_shared, !isnan(of(s)->explained))

static const struct hb_line first[] = {{HB_PRINTED, .print = heading},
                                       {HB_PRINTED, .print = advice},
                                       {HB_TITLE, .say = HB_SAY_LEARN_TITLE, .when = is_learnable},
                                       {HB_LINE, .say = HB_SAY_EMPTY, .when = is_learnable},
                                       {0}};

static const struct hb_column learn_columns[] = {
    {HB_SAY_LEARN_T_WHAT, HB_SAY_LEARN_CELL_WHAT, .right = false},
    {HB_SAY_LEARN_T_NOW, HB_SAY_LEARN_CELL_NOW, .right = true},
    {HB_SAY_LEARN_T_THEN, HB_SAY_LEARN_CELL_THEN, .right = true},
    {HB_SAY_LEARN_T_TURNS, HB_SAY_LEARN_CELL_TURNS, .right = true},
};

static const struct hb_line before[] = {
    {HB_TITLE, .say = HB_SAY_LEARN_NOTE, .when = is_learnable},
    {HB_LINE, .say = HB_SAY_LEARN_NOTE_BEST, .when = is_at_best},
    {HB_TITLE, .say = HB_SAY_WHY_SHARES},
    {HB_LINE, .say = HB_SAY_EMPTY},
    {0}};

static const struct hb_column columns[] = {
    {HB_SAY_WHY_UNKNOWN, HB_SAY_WHY_CELL_NAME, .right = false},
    {HB_SAY_WHY_RANGE_SHARED, HB_SAY_WHY_CELL_SHARED, .right = true},
    {HB_SAY_WHY_RANGE_ALONE, HB_SAY_WHY_CELL_ALONE, .right = true},
    {HB_SAY_WHY_RANGE_IN_ALL, HB_SAY_WHY_CELL_RANGE, .right = true},
    {HB_SAY_WHY_PEAK_IN_ALL, HB_SAY_WHY_CELL_PEAK, .right = true},
    {HB_SAY_WHY_T_KEY, HB_SAY_WHY_CELL_KEY, .right = false},
};

static const struct hb_line after[] = {{HB_LINE, .say = HB_SAY_EMPTY},
                                       {HB_LINE, .say = HB_SAY_WHY_SHARED, .when = is_shared},
                                       {HB_LINE, .say = HB_SAY_WHY_ALONE},
                                       {HB_LINE, .say = HB_SAY_WHY_IN_ALL},
                                       {HB_LINE, .say = HB_SAY_WHY_RANGE},
                                       {HB_LINE, .say = HB_SAY_WHY_PEAK},
                                       {HB_LINE, .say = HB_SAY_WHY_INPUTS},
                                       {HB_PRINTED, .print = few},
                                       {0}};

enum hobble_status hb_why_text(FILE *f, const hobble_case *c, const struct hobble_why *w, bool us)
{
    const struct hb_scope scope = hb_answer_scope(&hb_why_answer, c, w, us);
    hb_lines_print(f, first, &scope);
    enum hobble_status status = HOBBLE_OK;
    if (is_learnable(&scope))
        status = hb_table_print(f, "learn", learn_columns,
                                sizeof learn_columns / sizeof *learn_columns, &scope);
    hb_lines_print(f, before, &scope);
    if (status == HOBBLE_OK)
        status = hb_table_print(f, "unknowns", columns, sizeof columns / sizeof *columns, &scope);
    hb_lines_print(f, after, &scope);
    return status;
}
