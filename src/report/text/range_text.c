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

static bool stops(const struct hb_scope *s)
{
    return whole(s)->verdict == HOBBLE_STOP;
}

static bool goes_on(const struct hb_scope *s)
{
    return !stops(s);
}

static bool stop_holds(const struct hb_scope *s)
{
    return whole(s)->stop[s->place];
}

static bool is_condemned(const struct hb_scope *s)
{
    return stop_holds(s) && s->place == HOBBLE_STOP_CONDEMNED && whole(s)->condemned.reason;
}

static bool is_by_range(const struct hb_scope *s)
{
    return goes_on(s) && whole(s)->limited_by == HOBBLE_LIMIT_RANGE;
}

static bool is_by_other(const struct hb_scope *s)
{
    return goes_on(s) && whole(s)->limited_by != HOBBLE_LIMIT_RANGE;
}

static bool arrives(const struct hb_scope *s)
{
    return whole(s)->verdict == HOBBLE_GO && !isnan(whole(s)->to);
}

static bool has_run(const struct hb_scope *s)
{
    return whole(s)->run_seen + whole(s)->run_unseen > 0.0;
}

static bool run_as_stated(const struct hb_scope *s)
{
    return has_run(s) && !whole(s)->unseen_assumed;
}

static bool run_as_assumed(const struct hb_scope *s)
{
    return has_run(s) && whole(s)->unseen_assumed;
}

static bool has_left_out(const struct hb_scope *s)
{
    return whole(s)->stops_left_out;
}

static bool is_any_wheel(const struct hb_scope *s)
{
    return whole(s)->wheel_assumed;
}

static bool is_by_word(const struct hb_scope *s)
{
    return whole(s)->built_by_word;
}

static bool is_taken_empty(const struct hb_scope *s)
{
    return whole(s)->taken_as_empty;
}

static bool is_low(const struct hb_scope *s)
{
    return !whole(s)->taken_as_empty && whole(s)->pressure > 0.0 && whole(s)->pressure < 70e3;
}

static bool is_tested(const struct hb_scope *s)
{
    return whole(s)->tested > 0;
}

static bool is_not_vouched(const struct hb_scope *s)
{
    return stops(s) && !whole(s)->conditioned && is_tested(s);
}

/* What it would be would be read as leave on STOP. */
static bool would_be_more(const struct hb_scope *s)
{
    return goes_on(s) && !whole(s)->conditioned && is_tested(s);
}

static bool is_slower(const struct hb_scope *s)
{
    return goes_on(s) && ((const struct hobble_more *)s->of)->slower;
}

static bool is_lighter(const struct hb_scope *s)
{
    return goes_on(s) && !((const struct hobble_more *)s->of)->slower;
}

static bool is_scrap(const struct hb_scope *s)
{
    return whole(s)->condition == HOBBLE_SCRAP;
}

static bool is_no_scrap(const struct hb_scope *s)
{
    return !is_scrap(s);
}

static bool has_no_range(const struct hb_scope *s)
{
    return !hb_has_range(s);
}

static bool is_on_rim(const struct hb_scope *s)
{
    return whole(s)->rim_at_start;
}

static bool is_contradiction(const struct hb_scope *s)
{
    return has_no_range(s) && !is_on_rim(s);
}

static bool has_solvers(const struct hb_scope *s)
{
    return !isnan(whole(s)->solver_difference);
}

static bool has_no_solvers(const struct hb_scope *s)
{
    return !has_solvers(s);
}

static void few(FILE *f, const struct hb_scope *s)
{
    hb_caution_few(f, whole(s)->counted);
}

static void shared_cautions(FILE *f, const struct hb_scope *s)
{
    (void)s;
    hb_print_cautions(f);
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
    {HB_LINE, .say = HB_SAY_RANGE_VIBRATION, .when = goes_on},
    {HB_LINE, .say = HB_SAY_RANGE_SMELL, .when = goes_on},
    {HB_LINE, .say = HB_SAY_RANGE_PULLING, .when = goes_on},
    {HB_LINE, .say = HB_SAY_RANGE_NOISE, .when = goes_on},
    {HB_TITLE, .say = HB_SAY_RANGE_SCRAP, .when = is_scrap},
    {HB_TITLE, .say = HB_SAY_RANGE_INSPECT, .when = is_no_scrap},
    {HB_WRAP, .say = HB_SAY_RANGE_RULE_REASON, RULES},
    {HB_HUNG, .say = HB_SAY_RANGE_RULE_SOURCE, RULES, .indent = 10},
    /* numbers */
    {HB_TITLE, .say = HB_SAY_NUMBERS, .when = has_no_range},
    {HB_LINE, .say = HB_SAY_RANGE_NONE_RIM, .when = is_on_rim},
    {HB_LINE, .say = HB_SAY_RANGE_NONE_CONTRADICTION, .when = is_contradiction},
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
    {HB_LINE, .say = HB_SAY_RANGE_CLOSURE},
    {HB_LINE, .say = HB_SAY_RANGE_SOLVERS, .when = has_solvers},
    {HB_LINE, .say = HB_SAY_RANGE_SOLVERS_UNKNOWN, .when = has_no_solvers},
    {HB_TITLE, .say = HB_SAY_CAUTIONS},
    {HB_PRINTED, .print = few},
    {HB_PRINTED, .print = shared_cautions},
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
