/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/policy.h"
#include "report/describe/words.h"
#include "report/text/answers.h"
#include "report/text/lines.h"
#include "report/text/table.h"

static const struct hb_policy_report *report(const struct hb_scope *s)
{
    return s->whole;
}

static void blank(FILE *f, const struct hb_scope *s)
{
    (void)s;
    fputc('\n', f);
}

HB_WHEN(is_known, report(s)->policy->evidence_items > 0)
HB_WHEN(is_few, hobble_too_few(report(s)->policy->counted))

static void rule(FILE *f, const struct hb_scope *s)
{
    char line[HB_POLICY_LINES][HB_POLICY_TEXT], head[24];
    const int lines = hb_policy_lines(report(s), line);
    for (int i = 0; i < lines; i++) {
        snprintf(head, sizeof head, "  %d. ", i + 1);
        hb_print_wrapped(f, head, 5, line[i]);
    }
}

static void cautions(FILE *f, const struct hb_scope *s)
{
    (void)s;
    for (int i = 0; i < HB_POLICY_CAUTIONS; i++)
        hb_print_wrapped(f, "  ", 2, hb_message_text(hb_policy_cautions[i]));
}

static const struct hb_line first_lines[] = {
    {HB_LINE, .say = HB_SAY_POLICY_FLEET},
    {HB_PRINTED, .print = blank, .when = is_few},
    {HB_DEEP, .say = HB_SAY_POLICY_FEW, .when = is_few, .indent = 0},
    {HB_TITLE, .say = HB_SAY_POLICY_THE_RULE},
    {HB_PRINTED, .print = rule},
    {HB_PRINTED, .print = blank},
    {HB_WRAP, .say = HB_SAY_POLICY_VERDICT},
    {HB_TITLE, .say = HB_SAY_POLICY_ROWS},
    {0}};

static const struct hb_line cost_lines[] = {{HB_TITLE, .say = HB_SAY_POLICY_ALWAYS_STOPPING},
                                            {HB_WRAP, .say = HB_SAY_POLICY_PLAIN_RULE},
                                            {HB_TITLE, .say = HB_SAY_POLICY_COSTS},
                                            {0}};

static const struct hb_column cost_columns[] = {
    {HB_SAY_POLICY_T_CONSTRUCTION, HB_SAY_POLICY_CONSTRUCTION, false},
    {HB_SAY_POLICY_T_MONEY, HB_SAY_POLICY_MONEY, true},
    {HB_SAY_POLICY_T_EVENTS, HB_SAY_POLICY_EVENTS, true},
    {HB_SAY_POLICY_T_STRANDS, HB_SAY_POLICY_STRANDS, true},
    {HB_SAY_POLICY_T_PAYS, HB_SAY_POLICY_PAYS, true},
};

static const struct hb_line last_lines[] = {
    {HB_TITLE, .say = HB_SAY_POLICY_SHIFTS},
    {HB_WRAP, .say = HB_SAY_POLICY_FIRST},
    {HB_LINE, .say = HB_SAY_POLICY_SHIFT, .each = "sensitivity"},
    {HB_TITLE, .say = HB_SAY_POLICY_METHOD_TITLE},
    {HB_WRAP, .say = HB_SAY_POLICY_METHOD},
    {HB_WRAP, .say = HB_SAY_POLICY_EVIDENCE, .when = is_known},
    {HB_TITLE, .say = HB_SAY_CAUTIONS},
    {HB_PRINTED, .print = cautions},
    {0}};

enum hobble_status hb_policy_text(FILE *f, const struct hb_policy_report *r)
{
    const struct hb_scope scope = hb_policy_scope(r);
    hb_lines_print(f, first_lines, &scope);
    enum hobble_status status =
        hb_table_print(f, "rows", hb_policy_columns, HB_POLICY_CELLS, &scope);
    hb_lines_print(f, cost_lines, &scope);
    if (status == HOBBLE_OK)
        status =
            hb_table_print(f, "constructions", cost_columns, HB_COUNT_ROWS(cost_columns), &scope);
    hb_lines_print(f, last_lines, &scope);
    return status;
}

static const struct hb_column number_columns[] = {
    {HB_SAY_POLICY_T_KEY, HB_SAY_POLICY_KEY, false},
    {HB_SAY_POLICY_T_VALUE, HB_SAY_POLICY_VALUE, false},
    {HB_SAY_POLICY_T_SPREAD, HB_SAY_POLICY_SPREAD, false},
    {HB_SAY_POLICY_T_KNOWN, HB_SAY_POLICY_KNOWN, false},
    {HB_SAY_POLICY_T_SET_BY, HB_SAY_POLICY_SET_BY, false},
    {HB_SAY_POLICY_T_SOURCE, HB_SAY_POLICY_SOURCE, false},
};

enum hobble_status hb_policy_explain(FILE *f, const struct hb_policy_report *r)
{
    static const struct hb_line before[] = {{HB_TITLE, .say = HB_SAY_POLICY_NUMBERS}, {0}};
    static const struct hb_line after[] = {{HB_TITLE, .say = HB_SAY_POLICY_HELP},
                                           {HB_LINE, .say = HB_SAY_POLICY_SITE, .each = "sites"},
                                           {0}};
    const struct hb_scope scope = hb_policy_scope(r);
    hb_lines_print(f, before, &scope);
    const enum hobble_status status =
        hb_table_print(f, "inputs", number_columns, HB_COUNT_ROWS(number_columns), &scope);
    hb_lines_print(f, after, &scope);
    return status;
}
