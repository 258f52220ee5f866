/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"
#include "report/describe/words.h"
#include "report/text/answers.h"
#include "report/text/lines.h"

static const struct hobble_condition_answer *of(const struct hb_scope *s)
{
    return s->of;
}

HB_WHEN(has_job, *hobble_case_text(s->c, hobble_param_find("job")))
HB_WHEN(is_open, of(s)->find_out_count > 0)
HB_WHEN(something_matters, is_open(s) && of(s)->matters_most >= 0)
HB_WHEN(was_run, of(s)->drive.run)
HB_WHEN(was_not_run, !was_run(s))

static void changed(FILE *f, const struct hb_scope *s)
{
    hb_print_changed(f, s->c);
}

static const struct hb_line lines[] = {
    {HB_PRINTED, .print = changed},
    {HB_LINE, .say = HB_SAY_CONDITION_HEADLINE},
    {HB_LINE, .say = HB_SAY_CONDITION_JOB, .when = has_job},
    {HB_WRAP, .say = HB_SAY_CONDITION_MEANING},
    {HB_TITLE, .say = HB_SAY_CONDITION_RULES},
    {HB_HUNG, .say = HB_SAY_CONDITION_RULE, .each = "rules", .indent = 4},
    {HB_HUNG, .say = HB_SAY_CONDITION_SOURCE, .each = "rules", .indent = 12},
    {HB_TITLE, .say = HB_SAY_CONDITION_CHECKS},
    {HB_HUNG, .say = HB_SAY_CONDITION_CHECK, .each = "still_to_check", .indent = 4},
    {HB_TITLE, .say = HB_SAY_CONDITION_FIND_OUT, .when = is_open},
    {HB_HUNG, .say = HB_SAY_CONDITION_MATTERS, .when = something_matters, .indent = 4},
    {HB_HUNG, .say = HB_SAY_CONDITION_OPEN, .each = "find_out", .indent = 4},
    {HB_TITLE, .say = HB_SAY_CONDITION_DRIVE},
    {HB_LINE, .say = HB_SAY_CONDITION_NOT_RUN, .when = was_not_run},
    {HB_LINE, .say = HB_SAY_CONDITION_PRESSURE, .when = was_run},
    {HB_LINE, .say = HB_SAY_CONDITION_DISTANCE, .when = was_run},
    {HB_LINE, .say = HB_SAY_CONDITION_SPEED, .when = was_run},
    {HB_LINE, .say = HB_SAY_CONDITION_LOAD, .when = was_run},
    {HB_LINE, .say = HB_SAY_CONDITION_PEAK_HALF, .when = was_run},
    {HB_LINE, .say = HB_SAY_CONDITION_PEAK, .when = was_run},
    {HB_LINE, .say = HB_SAY_CONDITION_ABOVE_80, .when = was_run},
    {HB_LINE, .say = HB_SAY_CONDITION_ABOVE_100, .when = was_run},
    {HB_LINE, .say = HB_SAY_CONDITION_ABOVE_120, .when = was_run},
    {HB_LINE, .say = HB_SAY_CONDITION_LIFE_HALF, .when = was_run},
    {HB_LINE, .say = HB_SAY_CONDITION_LIFE, .when = was_run},
    {HB_LINE, .say = HB_SAY_CONDITION_DEFLECTION, .when = was_run},
    {HB_LINE, .say = HB_SAY_CONDITION_RIM, .when = was_run},
    {HB_WRAP, .say = HB_SAY_CONDITION_NEVER_BETTER, .when = was_run},
    {HB_TITLE, .say = HB_SAY_CONDITION_LIMITS},
    {HB_LINE, .say = HB_SAY_CONDITION_LOOSER, .each = "looser"},
    {HB_TITLE, .say = HB_SAY_CAUTIONS},
    {HB_WRAP, .say = HB_SAY_ITEM, .each = "cautions"},
    {0}};

void hb_condition_text(FILE *f, const hobble_case *c, const struct hobble_condition_answer *a,
                       bool us)
{
    const struct hb_scope scope = hb_answer_scope(&hb_condition_answer, c, a, us);
    hb_lines_print(f, lines, &scope);
}

void hb_condition_list(FILE *f)
{
    static const struct hb_line list[] = {
        {HB_LINE, .say = HB_SAY_CONDITION_LIST},
        {HB_LINE, .say = HB_SAY_CONDITION_LIST_ROW, .each = "every_rule"},
        {0}};
    hb_lines_print(f, list, &(struct hb_scope){.rows = hb_condition_list_rows});
}
