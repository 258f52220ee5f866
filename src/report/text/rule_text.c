/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"
#include "report/describe/words.h"
#include "report/text/answers.h"
#include "report/text/lines.h"

#include <math.h>

static const struct hobble_rule_answer *of(const struct hb_scope *s)
{
    return s->of;
}

HB_WHEN(holds, of(s)->holds)
HB_WHEN(holds_not, !of(s)->holds)
HB_WHEN(flips, !isnan(((const struct hobble_flip *)s->of)->at))
HB_WHEN(flips_not, !flips(s))
HB_WHEN(is_tested, of(s)->tested > 0)
HB_WHEN(is_not_vouched, !of(s)->vouched)
HB_WHEN(is_capped, of(s)->cap < of(s)->distance)

static void heading(FILE *f, const struct hb_scope *s)
{
    const struct hobble_rule_answer *a = of(s);
    hb_print_heading(f, s->c,
                     &(struct hb_heading){&a->marking, a->example, a->example_load, a->load_share});
}

static void few(FILE *f, const struct hb_scope *s)
{
    hb_caution_few(f, of(s)->counted);
}

static const struct hb_line lines[] = {
    {HB_PRINTED, .print = heading},
    {HB_LINE, .say = HB_SAY_RULE_HOLDS, .when = holds},
    {HB_LINE, .say = HB_SAY_RULE_HOLDS_NOT, .when = holds_not},
    {HB_WRAP, .say = HB_SAY_RULE_REASON},
    {HB_TITLE, .say = HB_SAY_RULE_STOPS, .when = holds},
    {HB_TITLE, .say = HB_SAY_RULE_BEGINS, .when = holds_not},
    {HB_LINE, .say = HB_SAY_RULE_FLIP, .when = flips, .each = "flips"},
    {HB_LINE, .say = HB_SAY_RULE_NO_FLIP, .when = flips_not, .each = "flips"},
    {HB_DEEP, .say = HB_SAY_RULE_NO_FLIP_WHY, .when = flips_not, .each = "flips", .indent = 23},
    {HB_TITLE, .say = HB_SAY_NUMBERS},
    {HB_LINE, .say = HB_SAY_RULE_SHARE},
    {HB_LINE, .say = HB_SAY_RULE_REQUIRED},
    {HB_LINE, .say = HB_SAY_RULE_LOAD},
    {HB_LINE, .say = HB_SAY_RULE_AMBIENT},
    {HB_LINE, .say = HB_SAY_RULE_APPROVAL, .when = is_tested},
    {HB_TITLE, .say = HB_SAY_CAUTIONS},
    {HB_PRINTED, .print = few},
    {HB_WRAP, .say = HB_SAY_RULE_NOT_VOUCHED, .when = is_not_vouched},
    {HB_LINE, .say = HB_SAY_RULE_CAPPED, .when = is_capped},
    {HB_WRAP, .say = HB_SAY_RULE_FROM_START},
    {HB_PRINTED, .print = hb_lines_cautions},
    {0}};

void hb_rule_text(FILE *f, const hobble_case *c, const struct hobble_rule_answer *a, bool us)
{
    const struct hb_scope scope = hb_answer_scope(&hb_rule_answer, c, a, us);
    hb_lines_print(f, lines, &scope);
}
