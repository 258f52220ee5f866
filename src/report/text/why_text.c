/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"
#include "report/describe/words.h"
#include "report/text/answers.h"
#include "report/text/lines.h"
#include "report/text/table.h"

static void heading(FILE *f, const struct hb_scope *s)
{
    const struct hobble_why *w = s->of;
    hb_print_heading(f, s->c, &(struct hb_heading){.marking = &w->marking, .example = w->example});
}

static void few(FILE *f, const struct hb_scope *s)
{
    hb_caution_few(f, ((const struct hobble_why *)s->of)->base);
}

HB_WHEN(is_learnable, ((const struct hobble_why *)s->of)->learn_count > 0)
HB_WHEN(is_not, !is_learnable(s))

static const struct hb_line first[] = {{HB_PRINTED, .print = heading},
                                       {HB_LINE, .say = HB_SAY_WHY_ADVICE_FIRST, .when = is_not},
                                       {HB_LINE, .say = HB_SAY_LEARN_TITLE, .when = is_learnable},
                                       {HB_LINE, .say = HB_SAY_EMPTY, .when = is_learnable},
                                       {0}};

static const struct hb_column learn_columns[] = {
    {HB_SAY_LEARN_T_WHAT, HB_SAY_LEARN_CELL_WHAT, .right = false},
    {HB_SAY_LEARN_T_NOW, HB_SAY_LEARN_CELL_NOW, .right = true},
    {HB_SAY_LEARN_T_THEN, HB_SAY_LEARN_CELL_THEN, .right = true},
    {HB_SAY_LEARN_T_TURNS, HB_SAY_LEARN_CELL_TURNS, .right = true},
};

static const struct hb_line before[] = {{HB_LINE, .say = HB_SAY_LEARN_NOTE, .when = is_learnable},
                                        {HB_TITLE, .say = HB_SAY_WHY_SHARES},
                                        {HB_LINE, .say = HB_SAY_EMPTY},
                                        {0}};

static const struct hb_column columns[] = {
    {HB_SAY_WHY_UNKNOWN, HB_SAY_WHY_CELL_NAME, .right = false},
    {HB_SAY_WHY_RANGE_ALONE, HB_SAY_WHY_CELL_ALONE, .right = true},
    {HB_SAY_WHY_RANGE_IN_ALL, HB_SAY_WHY_CELL_RANGE, .right = true},
    {HB_SAY_WHY_PEAK_IN_ALL, HB_SAY_WHY_CELL_PEAK, .right = true},
    {HB_SAY_WHY_ARRIVAL_IN_ALL, HB_SAY_WHY_CELL_ARRIVAL, .right = true},
    {HB_SAY_WHY_T_KEY, HB_SAY_WHY_CELL_KEY, .right = false},
};

static const struct hb_line after[] = {{HB_TITLE, .say = HB_SAY_WHY_ALONE},
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
