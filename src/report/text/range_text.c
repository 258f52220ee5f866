/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"
#include "report/describe/range_words.h"
#include "report/describe/words.h"
#include "report/text/answers.h"
#include "report/text/lines.h"

#include <math.h>

static const struct hobble_answer *whole(const struct hb_scope *s)
{
    return s->whole;
}

HB_WHEN(stops, whole(s)->verdict == HOBBLE_STOP)
HB_WHEN(goes_on, !stops(s))
HB_WHEN(stop_holds, whole(s)->stop[s->place])
HB_WHEN(is_condemned,
        stop_holds(s) && s->place == HOBBLE_STOP_CONDEMNED && whole(s)->condemned.reason)
HB_WHEN(is_by_range, goes_on(s) && whole(s)->limited_by == HOBBLE_LIMIT_RANGE)
HB_WHEN(is_by_other, goes_on(s) && whole(s)->limited_by != HOBBLE_LIMIT_RANGE)
HB_WHEN(arrives, whole(s)->verdict == HOBBLE_GO && !isnan(whole(s)->to))
HB_WHEN(has_run, whole(s)->run_seen + whole(s)->run_unseen > 0.0)
HB_WHEN(run_as_stated, has_run(s) && !whole(s)->unseen_assumed)
HB_WHEN(run_as_assumed, whole(s)->unseen_assumed)
HB_WHEN(has_left_out, whole(s)->stops_left_out)
HB_WHEN(is_any_wheel, whole(s)->wheel_assumed)
HB_WHEN(is_by_word, whole(s)->built_by_word)
HB_WHEN(is_taken_empty, whole(s)->taken_as_empty)
HB_WHEN(is_low, !whole(s)->taken_as_empty && whole(s)->pressure > 0.0 && whole(s)->pressure < 70e3)
HB_WHEN(is_tested, whole(s)->tested > 0)
HB_WHEN(is_not_vouched, stops(s) && !whole(s)->all_stated && is_tested(s))

/* What it would be would be read as leave on STOP. */
HB_WHEN(would_be_more, goes_on(s) && !whole(s)->all_stated && is_tested(s))
HB_WHEN(is_slower, goes_on(s) && ((const struct hobble_more *)s->of)->slower)
HB_WHEN(is_lighter, goes_on(s) && !((const struct hobble_more *)s->of)->slower)
HB_WHEN(is_scrap, whole(s)->condition == HOBBLE_SCRAP)
HB_WHEN(is_no_scrap, !is_scrap(s))
HB_WHEN(has_no_range, !hb_has_range(s))
HB_WHEN(is_on_rim, whole(s)->rim_at_start)
HB_WHEN(is_against, whole(s)->stop[HOBBLE_STOP_EVIDENCE])
HB_WHEN(is_contradiction, has_no_range(s) && !is_on_rim(s) && !is_against(s))
HB_WHEN(is_tempered, hb_has_evidence(s) && whole(s)->evidence_steps > 0)
HB_WHEN(has_solvers, !isnan(whole(s)->solver_difference))
HB_WHEN(has_no_solvers, !has_solvers(s))

static void few(FILE *f, const struct hb_scope *s)
{
    hb_caution_few(f, whole(s)->counted);
}

#define STOPS .each = "said.stops"
#define MORE  .each = "answer.more_if"
#define RULES .each = "condition.rules"
static const struct hb_line lines[] = {
    {HB_TITLE, .say = HB_SAY_RANGE_WHAT_DECIDES},
    {HB_WRAP, .say = HB_SAY_RANGE_SENTENCE, .when = stop_holds, STOPS},
    {HB_DEEP, .say = HB_SAY_RANGE_CONDEMNED, .when = is_condemned, STOPS, .indent = 4},
    {HB_HUNG, .say = HB_SAY_RANGE_CONDEMNED_SOURCE, .when = is_condemned, STOPS, .indent = 12},
    {HB_DEEP, .say = HB_SAY_RANGE_CHANGE, .when = stop_holds, STOPS, .indent = 4},
    {HB_LINE, .say = HB_SAY_RANGE_OUTSIDE, .each = "quality.outside_checked_range"},
    {HB_WRAP, .say = HB_SAY_RANGE_DECIDED_ENDS, .when = is_by_range},
    {HB_WRAP, .say = HB_SAY_RANGE_DECIDED, .when = is_by_other},
    {HB_LINE, .say = HB_SAY_RANGE_CHANCE, .when = arrives},
    /* what else it rests on */
    {HB_LINE, .say = HB_SAY_RANGE_DRIVEN, .when = run_as_stated},
    {HB_LINE, .say = HB_SAY_RANGE_DRIVEN_ASSUMED, .when = run_as_assumed},
    {HB_WRAP, .say = HB_SAY_RANGE_LEFT_OUT, .when = has_left_out},
    {HB_LINE, .say = HB_SAY_RANGE_WHEEL, .when = is_any_wheel},
    {HB_WRAP, .say = HB_SAY_RANGE_BY_WORD, .when = is_by_word},
    {HB_LINE, .say = HB_SAY_RANGE_TAKEN_EMPTY, .when = is_taken_empty},
    {HB_LINE, .say = HB_SAY_RANGE_BELOW_70, .when = is_low},
    {HB_WRAP, .say = HB_SAY_RANGE_NOT_VOUCHED, .when = is_not_vouched},
    {HB_WRAP, .say = HB_SAY_RANGE_IF_VOUCHED, .when = would_be_more},
    {HB_LINE, .say = HB_SAY_RANGE_SLOWER, .when = is_slower, MORE},
    {HB_LINE, .say = HB_SAY_RANGE_LIGHTER, .when = is_lighter, MORE},
    /* what to do */
    {HB_TITLE, .say = HB_SAY_RANGE_WHAT_NOW, .when = stops},
    {HB_WRAP, .say = HB_SAY_RANGE_STAND_THERE, .when = stops},
    {HB_WRAP, .say = HB_SAY_RANGE_CALL, .when = stops},
    {HB_TITLE, .say = HB_SAY_RANGE_STOP_AT, .when = goes_on},
    {HB_BULLET, .say = HB_SAY_WATCH_VIBRATION, .when = goes_on},
    {HB_BULLET, .say = HB_SAY_WATCH_SMELL, .when = goes_on},
    {HB_BULLET, .say = HB_SAY_WATCH_PULLING, .when = goes_on},
    {HB_BULLET, .say = HB_SAY_WATCH_NOISE, .when = goes_on},
    {HB_TITLE, .say = HB_SAY_RANGE_SCRAP, .when = is_scrap},
    {HB_TITLE, .say = HB_SAY_RANGE_INSPECT, .when = is_no_scrap},
    {HB_WRAP, .say = HB_SAY_RANGE_RULE_REASON, RULES},
    {HB_HUNG, .say = HB_SAY_RANGE_RULE_SOURCE, RULES, .indent = 10},
    /* numbers */
    {HB_TITLE, .say = HB_SAY_NUMBERS, .when = has_no_range},
    {HB_LINE, .say = HB_SAY_RANGE_NONE_RIM, .when = is_on_rim},
    {HB_LINE, .say = HB_SAY_RANGE_NONE_CONTRADICTION, .when = is_contradiction},
    {HB_LINE, .say = HB_SAY_RANGE_NONE_EVIDENCE, .when = is_against},
    {HB_TITLE, .say = HB_SAY_RANGE_NUMBERS, .when = hb_has_range},
    {HB_LINE, .say = HB_SAY_RANGE_BAND, .each = "said.bands"},
    {HB_LINE, .say = HB_SAY_RANGE_LOAD},
    {HB_LINE, .say = HB_SAY_RANGE_LOAD_SHARE},
    {HB_LINE, .say = HB_SAY_RANGE_AMBIENT},
    {HB_LINE, .say = HB_SAY_RANGE_HEAT_NOW},
    {HB_LINE, .say = HB_SAY_RANGE_HEAT_HALF},
    {HB_LINE, .say = HB_SAY_RANGE_HEAT_MOST},
    {HB_LINE, .say = HB_SAY_RANGE_HEAT_LIMIT},
    {HB_LINE, .say = HB_SAY_RANGE_LIFE_NOW},
    {HB_LINE, .say = HB_SAY_RANGE_LIFE_AFTER},
    {HB_LINE, .say = HB_SAY_RANGE_RULE},
    {HB_LINE, .say = HB_SAY_RANGE_COUNTED},
    {HB_LINE, .say = HB_SAY_RANGE_PASSED, .when = is_tested},
    {HB_LINE, .say = HB_SAY_RANGE_EVIDENCE, .when = hb_has_evidence},
    {HB_LINE, .say = HB_SAY_RANGE_TEMPERED, .when = is_tempered},
    {HB_LINE, .say = HB_SAY_RANGE_CLOSURE},
    {HB_LINE, .say = HB_SAY_RANGE_SOLVERS, .when = has_solvers},
    {HB_LINE, .say = HB_SAY_RANGE_SOLVERS_UNKNOWN, .when = has_no_solvers},
    {HB_TITLE, .say = HB_SAY_CAUTIONS},
    {HB_PRINTED, .print = few},
    {HB_PRINTED, .print = hb_lines_cautions},
    {0}};

static const struct hb_line rim[] = {{HB_TITLE, .say = HB_SAY_RANGE_RIM}, {0}};

void hb_range_full(FILE *f, const hobble_case *c, const struct hobble_answer *a, bool us)
{
    const struct hb_scope scope = hb_answer_scope(&hb_range_answer, c, a, us);
    hb_lines_print(f, lines, &scope);
}

void hb_range_rim(FILE *f, const hobble_case *c, const struct hobble_answer *a, bool us)
{
    const struct hb_scope scope = hb_answer_scope(&hb_range_answer, c, a, us);
    hb_lines_print(f, rim, &scope);
}
