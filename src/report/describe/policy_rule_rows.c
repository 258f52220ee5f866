/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_rule_rows.c - the rule to be remembered, and what other constructions cost. */
#include "report/describe/policy.h"
#include "report/describe/policy_rows.h"
#include "report/describe/word_lists.h"

#include <math.h>
#include <stdio.h>

#define TOLD (HB_ON_FULL | HB_ON_PAPER)
#define SAID (HB_NOT_JSON | TOLD)

static const struct hb_policy_report *report(const struct hb_scope *s)
{
    return s->whole;
}

/* ---- the rule -------------------------------------------------------------------------------- */

typedef struct hobble_simple_rule rule;

static const rule *of(const struct hb_scope *s)
{
    return s->of;
}

static size_t lines(const struct hb_scope *s)
{
    enum hb_message unused[HB_POLICY_LINES];
    return (size_t)hb_policy_line_says(report(s), unused);
}

/* In the units that the report is in, as its cards and sheet are. */
static void line(const struct hb_scope *s, struct hb_value *v)
{
    enum hb_message say[HB_POLICY_LINES];
    const struct hb_scope scope = hb_policy_scope(report(s));
    hb_policy_line_says(report(s), say);
    hb_value_say(v, say[s->place], &scope);
}

static const struct hb_row line_row[] = {{NULL, HB_TEXT, .get = line}};

HB_WHEN(has_exception, of(s)->exception)
HB_GET(vehicle, text, of(s)->vehicle < 0 ? NULL : report(s)->fleet->vehicle[of(s)->vehicle].name)
HB_GET(load, text, of(s)->load < 0 ? NULL : report(s)->fleet->load[of(s)->load].name)
HB_GET(season, text, of(s)->season < 0 ? NULL : report(s)->fleet->season[of(s)->season].name)

/* "estate, every seat, heat wave" */
static void what(const struct hb_scope *s, struct hb_value *v)
{
    static void (*const part[])(const struct hb_scope *, struct hb_value *) = {vehicle, load,
                                                                               season};
    size_t used = 0;
    v->room[0] = '\0';
    for (size_t i = 0; i < sizeof part / sizeof *part; i++) {
        struct hb_value name = {.is = HB_IS_NULL};
        part[i](s, &name);
        if (name.text && used < sizeof v->room)
            used += (size_t)snprintf(v->room + used, sizeof v->room - used, "%s%s",
                                     used > 0 ? ", " : "", name.text);
    }
    hb_value_text(v, v->room);
}

static const struct hb_row exception[] = {
    {"vehicle", HB_TEXT, .get = vehicle, .forms = HB_NULLABLE, .meaning = "null: any"},
    {"load", HB_TEXT, .get = load, .forms = HB_NULLABLE, .meaning = "null: any"},
    {"season", HB_TEXT, .get = season, .forms = HB_NULLABLE, .meaning = "null: any"},
    {"distance_km", HB_REAL_AT(rule, other, KILOMETRE), .least = 0.0, .most = 80.0,
     .shown = HB_WHOLE_DOWN, .forms = TOLD, .meaning = "in place of the rule's; 0 is stop"},
    {"what", HB_TEXT, .get = what, .forms = SAID},
    {0}};

HB_GET(kept, say, of(s)->verified ? HB_SAY_POLICY_KEPT : HB_SAY_POLICY_NOT_KEPT, s)
HB_ITEM(fresh_row, &report(s)->policy->row[of(s)->fresh_row])

const struct hb_row hb_policy_rule_rows[] = {
    {"lines", HB_LIST, .count = lines, .of = line_row, .least = 2, .most = 3,
     .meaning = "as drivers are told it, in the units that were asked for"},
    {"goes_on", HB_TRUTH_AT(rule, found), .meaning = "somebody may drive on by it"},
    {"speed_kmh", HB_REAL_AT(rule, speed, KM_PER_HOUR), .least = 0.0, .most = 80.0000001,
     .shown = HB_WHOLE_DOWN, .forms = TOLD, .meaning = "of the rule"},
    {"distance_km", HB_REAL_AT(rule, distance, KILOMETRE), .least = 0.0, .most = 80.0,
     .shown = HB_WHOLE_DOWN, .forms = TOLD, .meaning = "of the rule; 0 is stop"},
    {"exception", HB_OBJECT, .when = has_exception, .of = exception, .forms = HB_NULLED,
     .meaning = "for whom another distance holds"},
    {"worst_chance_of_failing", HB_REAL_AT(rule, failed, NONE), HB_POLICY_SHARE,
     .meaning = "of the worst row, on the sample that found the rule"},
    {"worst_error", HB_REAL_AT(rule, failed_error, NONE), HB_POLICY_FROM_0,
     .meaning = "of that: one standard deviation by sampling"},
    {"fresh_worst_chance_of_failing", HB_REAL_AT(rule, fresh, NONE), HB_POLICY_SHARE,
     .shown = HB_CHANCE_UP, .forms = TOLD, .meaning = "the same on a fresh sample"},
    {"fresh_worst_error", HB_REAL_AT(rule, fresh_error, NONE), HB_POLICY_FROM_0,
     .shown = HB_CHANCE_UP, .forms = TOLD,
     .meaning = "of that: one standard deviation by sampling"},
    {"verified", HB_TRUTH_AT(rule, verified),
     .meaning = "no row is over the accepted chance on the fresh sample"},
    {"reaches_help", HB_REAL_AT(rule, reaches, NONE), HB_POLICY_SHARE, .shown = HB_CHANCE_DOWN,
     .forms = TOLD, .meaning = "share of warnings, by this rule"},
    {"reaches_help_by_rows", HB_REAL_AT(rule, reaches_best, NONE), HB_POLICY_SHARE,
     .shown = HB_CHANCE_DOWN, .forms = TOLD,
     .meaning = "share of warnings, by the rows' own distances"},
    {"rules_tried", HB_COUNT_AT(rule, tried), .least = 1.0, .most = HUGE_VAL, .forms = TOLD,
     .meaning = "rules that were looked at"},
    {"fleet", HB_OBJECT, .at = offsetof(rule, all), .of = hb_policy_chance_rows,
     .meaning = "over the fleet's kilometres"},
    {"fleet_fresh", HB_OBJECT, .at = offsetof(rule, all_fresh), .of = hb_policy_chance_rows,
     .meaning = "the same on the fresh sample"},
    {"kept", HB_TEXT, .get = kept, .forms = SAID},
    {"worst", HB_OBJECT, .item = fresh_row, .of = hb_policy_table_rows, .forms = SAID},
    {0}};

/* ---- constructions --------------------------------------------------------------------------- */

typedef struct hobble_policy_cost cost;
typedef struct hobble_spread band;

HB_WHEN(is_self, s->place == HOBBLE_BUILD_SELF)
HB_GET(build, text, hobble_build_word((enum hobble_build)s->place))
HB_GET(build_name, text, hobble_build_name((enum hobble_build)s->place))

static const char *pays_word(int place)
{
    static const char *const words[] = {[HOBBLE_BREAK_AT] = "at_rate",
                                        [HOBBLE_BREAK_ALWAYS] = "always",
                                        [HOBBLE_BREAK_NEVER] = "never",
                                        "itself",
                                        NULL};
    return words[place];
}

static void pays(const struct hb_scope *s, struct hb_value *v)
{
    const cost *c = s->of;
    hb_value_text(v, pays_word(is_self(s) ? HOBBLE_BREAK_NEVER + 1 : (int)c->pays));
}

HB_GET(break_even, number, is_self(s) ? (double)NAN : ((const cost *)s->of)->break_even)

static void rate_now(const struct hb_scope *s, struct hb_value *v)
{
    const int every = hobble_fleet_find("puncture_every");
    hb_value_number(v, 1e5 / report(s)->fleet->number[every].value);
}

static void told_pays(const struct hb_scope *s, struct hb_value *v)
{
    const cost *c = s->of;
    hb_value_say(v,
                 is_self(s)                       ? HB_SAY_POLICY_PAYS_ITSELF
                 : c->pays == HOBBLE_BREAK_ALWAYS ? HB_SAY_POLICY_PAYS_ALWAYS
                 : c->pays == HOBBLE_BREAK_NEVER  ? HB_SAY_POLICY_PAYS_NEVER
                 : c->pays_below                  ? HB_SAY_POLICY_PAYS_BELOW
                                                  : HB_SAY_POLICY_PAYS_FROM,
                 s);
}

#define BAND_ROW(field, how, says)                                                                 \
    {                                                                                              \
#field, HB_REAL_AT(band, field, NONE), HB_POLICY_FROM_0, .shown = (how), .forms = TOLD,    \
                                                                 .meaning = (says)                 \
    }
static const struct hb_row money_band[] = {
    BAND_ROW(middle, HB_WHOLE_NEAR, "with every number as it is stated"),
    BAND_ROW(p5, HB_WHOLE_NEAR, "5 of 100 draws are below"),
    BAND_ROW(p95, HB_WHOLE_NEAR, "95 of 100 draws are below"),
    {0}};
static const struct hb_row event_band[] = {
    BAND_ROW(middle, HB_ONE_DECIMAL, "with every number as it is stated"),
    BAND_ROW(p5, HB_ONE_DECIMAL, "5 of 100 draws are below"),
    BAND_ROW(p95, HB_ONE_DECIMAL, "95 of 100 draws are below"),
    {0}};

const struct hb_row hb_policy_cost_rows[] = {
    {"construction", HB_WORD, .get = build, .word = hb_build_word, .meaning = "of the tyres"},
    {"cost_per_100000_km", HB_OBJECT, .at = offsetof(cost, cost), .of = money_band,
     .meaning = "money of the fleet, a vehicle"},
    {"stranded_per_million_km", HB_OBJECT, .at = offsetof(cost, stranded), .of = event_band,
     .meaning = "vehicles that do not reach help on their own wheels"},
    {"chance_a_puncture_strands", HB_REAL_AT(cost, stranding, NONE), HB_POLICY_SHARE,
     .shown = HB_CHANCE_UP, .forms = TOLD, .meaning = "bursts and torn walls among them"},
    {"fixed_per_100000_km", HB_REAL_AT(cost, fixed, NONE), HB_POLICY_FROM_0,
     .meaning = "money without any puncture"},
    {"cost_of_a_puncture", HB_REAL_AT(cost, a_puncture, NONE), HB_POLICY_FROM_0,
     .meaning = "money for each"},
    {"self_supporting_pays", HB_WORD, .get = pays, .word = pays_word,
     .meaning = "self-supporting tyres against this construction"},
    {"break_even_punctures_per_100000_km", HB_REAL, .get = break_even, .shown = HB_THREE_DIGITS,
     .forms = HB_NULLABLE | TOLD, .meaning = "where both cost the same; null: at no such rate"},
    {"name", HB_TEXT, .get = build_name, .forms = SAID | HB_ON_PICTURE},
    {"rate_now", HB_REAL, .get = rate_now, .shown = HB_THREE_DIGITS, .forms = SAID},
    {"told_pays", HB_TEXT, .get = told_pays, .forms = SAID},
    {0}};
