/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_table_rows.c - a row of the policy: one vehicle, load and season. */
#include "report/describe/policy.h"
#include "report/describe/policy_rows.h"
#include "report/describe/word_lists.h"
#include "report/describe/words.h"

#include <math.h>
#include <stdio.h>

typedef struct hobble_policy_row row;
typedef struct hobble_chance chance;

static const row *of(const struct hb_scope *s)
{
    return s->of;
}

static const struct hb_policy_report *report(const struct hb_scope *s)
{
    return s->whole;
}

const struct hb_column hb_policy_columns[HB_POLICY_CELLS] = {
    {HB_SAY_POLICY_T_VEHICLE, HB_SAY_POLICY_VEHICLE, false},
    {HB_SAY_POLICY_T_LOAD, HB_SAY_POLICY_LOAD, false},
    {HB_SAY_POLICY_T_SEASON, HB_SAY_POLICY_SEASON, false},
    [HB_POLICY_BY_RULE] = {HB_SAY_POLICY_T_BY_RULE, HB_SAY_POLICY_BY_RULE, true},
    [HB_POLICY_ALONE] = {HB_SAY_POLICY_T_ALONE, HB_SAY_POLICY_ALONE, true},
    {HB_SAY_POLICY_T_AT, HB_SAY_POLICY_AT, true},
    {HB_SAY_POLICY_T_FAILS, HB_SAY_POLICY_FAILS, true},
    {HB_SAY_POLICY_T_STRANDED, HB_SAY_POLICY_STRANDED, true},
    {HB_SAY_POLICY_T_RULE_FAILS, HB_SAY_POLICY_RULE_FAILS, true},
    {HB_SAY_POLICY_T_STRANDED, HB_SAY_POLICY_RULE_STRANDED, true},
    [HB_POLICY_WHY] = {HB_SAY_POLICY_T_WHY, HB_SAY_POLICY_WHY, true},
};

/* ---- what it is of --------------------------------------------------------------------------- */

HB_GET(vehicle, text, report(s)->fleet->vehicle[of(s)->vehicle].name)
HB_GET(load, text, report(s)->fleet->load[of(s)->load].name)
HB_GET(season, text, report(s)->fleet->season[of(s)->season].name)

static void short_name(const struct hb_scope *s, struct hb_value *v)
{
    const struct hobble_fleet *f = report(s)->fleet;
    snprintf(v->room, sizeof v->room, "%.24s, %.20s, %.20s", f->vehicle[of(s)->vehicle].name,
             f->load[of(s)->load].name, f->season[of(s)->season].name);
    hb_value_text(v, v->room);
}

HB_GET(front_load, number, of(s)->load_n[0])
HB_GET(rear_load, number, of(s)->load_n[1])

/* ---- advice ---------------------------------------------------------------------------------- */

HB_WHEN(goes, of(s)->go)

/* In the order of false and true. */
static const char *verdict_word(int go)
{
    static const char *const words[] = {"stop", "go", NULL};
    return words[go];
}

HB_GET(verdict, text, verdict_word(of(s)->go))

static double told(const struct hb_scope *s)
{
    return hb_policy_has_rule(report(s)) ? of(s)->told : 0.0;
}

HB_GET(by_rule, number, told(s))
HB_GET(by_rule_told, say, told(s) > 0.0 ? HB_SAY_POLICY_BY_RULE_WAY : HB_SAY_POLICY_NO_WAY, s)
HB_GET(alone_told, say, of(s)->distance > 0.0 ? HB_SAY_POLICY_ALONE_WAY : HB_SAY_POLICY_NO_WAY, s)

/* ---- reasons --------------------------------------------------------------------------------- */

static size_t count_bits(int stops)
{
    size_t n = 0;
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        n += (size_t)(stops >> i & 1);
    return n;
}

static const char *nth_bit(int stops, size_t place)
{
    int i = 0;
    for (; i < HOBBLE_STOP_COUNT - 1; i++)
        if (stops >> i & 1 && place-- == 0)
            break;
    return hobble_stop_word((enum hobble_stop)i);
}

static int own_stops(const struct hb_scope *s)
{
    return of(s)->go ? 0 : of(s)->stops;
}

static int rule_stops(const struct hb_scope *s)
{
    return of(s)->rule_barred ? of(s)->rule_stops : 0;
}

HB_HOW_MANY(count_own, count_bits(own_stops(s)))
HB_HOW_MANY(count_rule, count_bits(rule_stops(s)))
HB_GET(own_stop, text, nth_bit(own_stops(s), s->place))
HB_GET(rule_stop, text, nth_bit(rule_stops(s), s->place))

static const struct hb_row own_stop_row[] = {
    {NULL, HB_WORD, .get = own_stop, .word = hb_stop_word}};
static const struct hb_row rule_stop_row[] = {
    {NULL, HB_WORD, .get = rule_stop, .word = hb_stop_word}};

/* Against the plain rule, in words. */
static void reasons(const struct hb_scope *s, struct hb_value *v)
{
    const int stops = of(s)->rule_stops;
    const size_t count = count_bits(stops);
    size_t used = 0;
    hb_value_say(v, HB_SAY_POLICY_NO_5_KM, s);
    for (size_t i = 0; i < count && used < sizeof v->room; i++) {
        char word[64];
        hb_words_spaced(nth_bit(stops, i), word, sizeof word);
        used += (size_t)snprintf(v->room + used, sizeof v->room - used, "%s%s", i > 0 ? ", " : "",
                                 word);
    }
}

/* Why the plain rule is unsafe or wasteful here, and why a row is stop. */
static void why(const struct hb_scope *s, struct hb_value *v)
{
    const row *r = of(s);
    hb_value_say(v,
                 !r->go ? r->rule_unsafe ? HB_SAY_POLICY_WHY_UNSAFE_STOP : HB_SAY_POLICY_WHY_STOP
                 : r->rule_barred   ? HB_SAY_POLICY_WHY_BARRED
                 : r->rule_unsafe   ? HB_SAY_POLICY_WHY_UNSAFE
                 : r->rule_wasteful ? HB_SAY_POLICY_WHY_WASTEFUL
                 : r->rule_holds    ? HB_SAY_POLICY_WHY_HOLDS
                                    : HB_SAY_POLICY_WHY_WITHIN,
                 s);
}

/* ---- the rows -------------------------------------------------------------------------------- */

#define TABLE (HB_ON_FULL | HB_ON_PAPER)
#define SAID  (HB_NOT_JSON | TABLE)

#define CHANCE_ROWS(where)                                                                         \
    {"failed",         HB_REAL_AT(chance, failed, NONE),                                           \
     HB_POLICY_SHARE,  .shown = HB_CHANCE_UP,                                                      \
     .forms = (where), .meaning = "the tyre ends before help and before the allowed distance"},    \
        {"failed_error", HB_REAL_AT(chance, error, NONE), HB_POLICY_FROM_0,                        \
         .meaning = "of that: one standard deviation by sampling"},                                \
        {"stranded",       HB_REAL_AT(chance, stranded, NONE),                                     \
         HB_POLICY_SHARE,  .shown = HB_CHANCE_UP,                                                  \
         .forms = (where), .meaning = "help is not reached on one's own wheels"},                  \
        {"lost",           HB_REAL_AT(chance, lost, NONE),                                         \
         HB_POLICY_SHARE,  .shown = HB_CHANCE_UP,                                                  \
         .forms = (where), .meaning = "stopped as told, with help within the tyre's range"},       \
    {                                                                                              \
        0                                                                                          \
    }
const struct hb_row hb_policy_chance_rows[] = {CHANCE_ROWS(0)};
static const struct hb_row shown_chance_rows[] = {CHANCE_ROWS(TABLE)};

/* In the order of the columns of the CSV. */
const struct hb_row hb_policy_table_rows[] = {
    {"vehicle", HB_TEXT, .get = vehicle, .forms = TABLE | HB_ON_CSV, .column = "vehicle",
     .meaning = "as the fleet names it"},
    {"load", HB_TEXT, .get = load, .forms = TABLE | HB_ON_CSV, .column = "load",
     .meaning = "as the fleet names it"},
    {"season", HB_TEXT, .get = season, .forms = TABLE | HB_ON_CSV, .column = "season",
     .meaning = "as the fleet names it"},
    {"share_of_km", HB_REAL_AT(row, weight, NONE), HB_POLICY_SHARE, .forms = HB_ON_CSV,
     .column = "share of km", .meaning = "of the fleet's kilometres"},
    {"load_front_n", HB_REAL, .unit = HOBBLE_UNIT_NEWTON, .get = front_load, HB_POLICY_FROM_0,
     .forms = HB_ON_CSV, .column = "front wheel", .meaning = "on a front wheel"},
    {"load_rear_n", HB_REAL, .unit = HOBBLE_UNIT_NEWTON, .get = rear_load, HB_POLICY_FROM_0,
     .forms = HB_ON_CSV, .column = "rear wheel", .meaning = "on a rear wheel"},
    {"coldest_c", HB_REAL_AT(row, coldest, CELSIUS), .forms = HB_ON_CSV, .column = "coldest",
     .meaning = "hour of the season"},
    {"hottest_c", HB_REAL_AT(row, hottest, CELSIUS), .forms = HB_ON_CSV, .column = "hottest",
     .meaning = "hour of the season"},
    {"verdict", HB_WORD, .get = verdict, .word = verdict_word, .meaning = "of the row alone"},
    {"go", HB_TRUTH_AT(row, go), .forms = HB_NOT_JSON | HB_ON_CSV, .column = "go"},
    {"advised_speed_kmh", HB_REAL_AT(row, speed, KM_PER_HOUR), .when = goes, .least = 0.0,
     .most = 80.0000001, .shown = HB_WHOLE_DOWN, .forms = TABLE | HB_ON_CSV | HB_NULLED,
     .column = "speed", .meaning = "of the row alone"},
    {"advised_distance_km", HB_REAL_AT(row, distance, KILOMETRE), .least = 0.0, .most = 80.0,
     .shown = HB_WHOLE_DOWN, .forms = TABLE | HB_ON_CSV | HB_ON_PICTURE, .column = "distance",
     .meaning = "in every hour of the season, of the row alone; 0 is stop"},
    {"advice_alone_km", HB_REAL_AT(row, advised, KILOMETRE), .least = 0.0, .most = 80.0,
     .meaning = "before the accepted chance shortens it"},
    {"chance_of_failing", HB_REAL_AT(row, policy.failed, NONE), HB_POLICY_SHARE,
     .shown = HB_CHANCE_UP, .forms = TABLE | HB_ON_CSV, .column = "policy: failed",
     .meaning = "within the row's own distance"},
    {"failing_error", HB_REAL_AT(row, policy.error, NONE), .forms = HB_NOT_JSON | HB_ON_CSV,
     .column = "policy: failed error"},
    {"chance_of_stranding", HB_REAL_AT(row, policy.stranded, NONE), HB_POLICY_SHARE,
     .shown = HB_CHANCE_UP, .forms = TABLE | HB_ON_CSV, .column = "policy: stranded",
     .meaning = "by failing, or by stopping as told"},
    {"rule_failed", HB_REAL_AT(row, rule.failed, NONE), .forms = HB_NOT_JSON | HB_ON_CSV,
     .column = "rule: failed"},
    {"rule_stranded", HB_REAL_AT(row, rule.stranded, NONE), .forms = HB_NOT_JSON | HB_ON_CSV,
     .column = "rule: stranded"},
    {"rule_lost", HB_REAL_AT(row, rule.lost, NONE), .forms = HB_NOT_JSON | HB_ON_CSV,
     .column = "rule: lost"},
    {"stop_stranded", HB_REAL_AT(row, stop.stranded, NONE), .forms = HB_NOT_JSON | HB_ON_CSV,
     .column = "stop: stranded"},
    {"rule_share_of_tyres", HB_REAL_AT(row, rule_share, NONE), HB_POLICY_SHARE, .forms = HB_ON_CSV,
     .column = "share making the rule",
     .meaning = "that make the plain rule's 80 km from the warning on, in the worst hour"},
    {"rule_holds", HB_TRUTH_AT(row, rule_holds), .forms = HB_ON_CSV, .column = "rule holds",
     .meaning = "the plain rule, for the share of tyres that is required"},
    {"rule_unsafe", HB_TRUTH_AT(row, rule_unsafe), .forms = HB_ON_CSV, .column = "rule unsafe",
     .meaning = "the plain rule is over the accepted chance"},
    {"rule_wasteful", HB_TRUTH_AT(row, rule_wasteful), .forms = HB_ON_CSV,
     .column = "rule wasteful",
     .meaning = "the plain rule leaves more tyres at the roadside than the accepted chance"},
    {"by_rule_km", HB_REAL, .unit = HOBBLE_UNIT_KILOMETRE, .get = by_rule, .least = 0.0,
     .most = 80.0, .shown = HB_WHOLE_DOWN, .forms = TABLE | HB_ON_CSV, .column = "by the rule",
     .meaning = "what the rule tells this row, at the rule's speed; 0: stop, or no rule was kept"},
    {"counted", HB_COUNT_AT(row, counted), HB_POLICY_FROM_0, .forms = HB_ON_CSV,
     .column = "tyres counted", .meaning = "tyres that the row rests on at least"},
    {"stop_reasons", HB_LIST, .count = count_own, .of = own_stop_row,
     .meaning = "why the row is stop"},
    {"rule_stop_reasons", HB_LIST, .count = count_rule, .of = rule_stop_row,
     .meaning = "why advice at 80 km/h is to stop, where it is"},
    {"under_policy", HB_OBJECT, .at = offsetof(row, policy), .of = hb_policy_chance_rows,
     .meaning = "chances with the row's own distance"},
    {"under_rule", HB_OBJECT, .at = offsetof(row, rule), .of = shown_chance_rows,
     .meaning = "chances with the plain rule of 80 km at 80 km/h"},
    {"under_stop", HB_OBJECT, .at = offsetof(row, stop), .of = hb_policy_chance_rows,
     .meaning = "chances where everybody always stops"},
    /* said in the tables */
    {"by_rule_told", HB_TEXT, .get = by_rule_told, .forms = SAID},
    {"alone_told", HB_TEXT, .get = alone_told, .forms = SAID | HB_ON_PICTURE},
    {"reasons", HB_TEXT, .get = reasons, .forms = SAID},
    {"why", HB_TEXT, .get = why, .forms = SAID},
    {"short_name", HB_TEXT, .get = short_name, .forms = HB_NOT_JSON | HB_ON_PICTURE},
    {0}};
