/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"
#include "report/describe/words.h"
#include "report/text/answers.h"
#include "report/text/lines.h"
#include "report/text/table.h"

/* ---- the wall -------------------------------------------------------------------------------- */

static void wall_heading(FILE *f, const struct hb_scope *s)
{
    const struct hobble_wall *w = s->of;
    hb_print_heading(f, s->c, &(struct hb_heading){.marking = &w->marking, .example = w->example});
}

static void wall_cautions(FILE *f, const struct hb_scope *s)
{
    (void)s;
    hb_cautions_of_study(f, HB_NO_ENSEMBLE);
}

HB_WHEN(is_evident, ((const struct hobble_wall *)s->of)->evidence_items > 0)

static const struct hb_line wall_lines[] = {
    {HB_PRINTED, .print = wall_heading},
    {HB_LINE, .say = HB_SAY_WALL_WHAT},
    {HB_LINE, .say = HB_SAY_WALL_EVIDENCE, .when = is_evident},
    {HB_TITLE, .say = HB_SAY_WALL_TITLES},
    {HB_LINE, .say = HB_SAY_WALL_LINE, .each = "lines"},
    {HB_PRINTED, .print = wall_cautions},
    {0}};

void hb_wall_text(FILE *f, const hobble_case *c, const struct hobble_wall *w, bool us)
{
    const struct hb_scope scope = hb_answer_scope(&hb_wall_answer, c, w, us);
    hb_lines_print(f, wall_lines, &scope);
}

/* ---- life along a journey -------------------------------------------------------------------- */

static void life_heading(FILE *f, const struct hb_scope *s)
{
    const struct hobble_life *l = s->of;
    hb_print_heading(f, s->c, &(struct hb_heading){.marking = &l->marking, .example = l->example});
}

static void life_cautions(FILE *f, const struct hb_scope *s)
{
    hb_cautions_of_study(f, hb_counted(s->c, ((const struct hobble_life *)s->of)->passed));
}

static const struct hb_line life_lines[] = {{HB_PRINTED, .print = life_heading},
                                            {HB_LINE, .say = HB_SAY_LIFE_WHAT},
                                            {HB_TITLE, .say = HB_SAY_LIFE_TITLES_ABOVE},
                                            {HB_LINE, .say = HB_SAY_LIFE_TITLES},
                                            {HB_LINE, .say = HB_SAY_LIFE_LINE, .each = "lines"},
                                            {HB_PRINTED, .print = life_cautions},
                                            {0}};

void hb_life_text(FILE *f, const hobble_case *c, const struct hobble_life *life, bool us)
{
    const struct hb_scope scope = hb_answer_scope(&hb_life_answer, c, life, us);
    hb_lines_print(f, life_lines, &scope);
}

/* ---- what the mark is worth ------------------------------------------------------------------ */

static const struct hobble_mark_worth *worth(const struct hb_scope *s)
{
    return s->of;
}

HB_WHEN(is_tested, worth(s)->tested > 0)
HB_WHEN(is_not_tested, !is_tested(s))
HB_WHEN(is_known, worth(s)->evidence_items > 0)

static void mark_heading(FILE *f, const struct hb_scope *s)
{
    hb_print_heading(
        f, s->c, &(struct hb_heading){.marking = &worth(s)->marking, .example = worth(s)->example});
}

static void mark_cautions(FILE *f, const struct hb_scope *s)
{
    hb_cautions_of_study(f, hb_counted(s->c, worth(s)->passed));
}

static const struct hb_line mark_before[] = {
    {HB_PRINTED, .print = mark_heading},
    {HB_LINE, .say = HB_SAY_MARK_PASS, .when = is_tested},
    {HB_LINE, .say = HB_SAY_MARK_NO_TEST, .when = is_not_tested},
    {HB_TITLE, .say = HB_SAY_MARK_TITLES},
    {HB_LINE, .say = HB_SAY_MARK_TITLES_BELOW},
    {HB_LINE, .say = HB_SAY_MARK_ALL},
    {HB_LINE, .say = HB_SAY_MARK_APPROVED},
    {HB_LINE, .say = HB_SAY_MARK_KNOWN, .when = is_known},
    {HB_LINE, .say = HB_SAY_MARK_BRACKETS},
    {HB_LINE, .say = HB_SAY_MARK_EVIDENCE, .when = is_known},
    {HB_TITLE, .say = HB_SAY_MARK_UNKNOWNS},
    {HB_LINE, .say = HB_SAY_EMPTY},
    {0}};

static const struct hb_column mark_columns[] = {
    {HB_SAY_MARK_UNKNOWN, HB_SAY_MARK_CELL_KEY, .right = false},
    {HB_SAY_MARK_ALL_TYPES, HB_SAY_MARK_CELL_ALL, .right = false},
    {HB_SAY_MARK_APPROVED_TYPES, HB_SAY_MARK_CELL_APPROVED, .right = false},
    {HB_SAY_MARK_MOVED, HB_SAY_MARK_CELL_MOVED, .right = true},
};

static const struct hb_line mark_after[] = {{HB_PRINTED, .print = mark_cautions}, {0}};

enum hobble_status hb_mark_text(FILE *f, const hobble_case *c, const struct hobble_mark_worth *m,
                                bool us)
{
    const struct hb_scope scope = hb_answer_scope(&hb_mark_answer, c, m, us);
    hb_lines_print(f, mark_before, &scope);
    const enum hobble_status status = hb_table_print(
        f, "parameters", mark_columns, sizeof mark_columns / sizeof *mark_columns, &scope);
    hb_lines_print(f, mark_after, &scope);
    return status;
}
